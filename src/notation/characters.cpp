#include "notation/characters.h"

#include <fmt/format.h>

#include "base/utf8.h"

namespace yubifu::notation {
namespace {

constexpr char32_t kFirstHalfKana = 0xFF61;
constexpr std::u32string_view kHalfKana =
    U"。「」、・ヲァィゥェォャュョッーアイウエオカキクケコサシスセソタチツテトナニヌネノハヒフヘホ"
    U"マミムメモヤユヨラリルレロワン\u3099\u309A";
constexpr char32_t kVoiced = 0x3099;
constexpr char32_t kSemiVoiced = 0x309A;
// Katakana whose voiced form is the next code point; of the ha row also the semi-voiced one.
constexpr std::u32string_view kCanBeVoiced = U"カキクケコサシスセソタチツテトハヒフヘホ";
constexpr std::u32string_view kCanBeSemiVoiced = U"ハヒフヘホ";

// U+002D, U+2010 to U+2015, U+2212, U+2500, U+2501, U+30FC; the full-width and half-width ones
// are folded first. U+4E00, the sign 一, is none of them.
constexpr std::u32string_view kDashes = U"-‐‑‒–—―−─━ー";
constexpr std::u32string_view kDots = U".・·˙∙‧•⋅";
constexpr std::u32string_view kInvisibleSpaces = U"\u200B\u2060\uFEFF";

constexpr std::size_t kMostShown = 32;
constexpr char kLeadOfWideForms = '\xEF';

bool is_in(std::u32string_view set, char32_t value) {
  return set.find(value) != std::u32string_view::npos;
}

// The character that a voiced sound mark makes of the one before it; 0 for none.
char32_t composed(char32_t base, char32_t mark) {
  if (mark == kVoiced && base == U'ウ') return U'ヴ';
  if (mark == kVoiced && is_in(kCanBeVoiced, base)) return base + 1;
  if (mark == kSemiVoiced && is_in(kCanBeSemiVoiced, base)) return base + 2;
  return 0;
}

// What stands before the first character that stops it.
template <typename Stops>
std::string_view front_until(std::string_view text, const Stops& stops) {
  std::size_t end = 0;
  while (end < text.size()) {
    const base::CodePoint point = base::first_code_point(text.substr(end));
    if (stops(point.value)) break;
    end += point.size;
  }
  return text.substr(0, end);
}

}  // namespace

char32_t folded(char32_t value) {
  if (value == U'\u3000') return U' ';
  if (value >= kFirstHalfKana && value < kFirstHalfKana + kHalfKana.size()) {
    return kHalfKana[value - kFirstHalfKana];
  }
  return base::narrowed(value);
}

std::string folded(std::string_view text) {
  const bool has_wide_forms = text.find(kLeadOfWideForms) != std::string_view::npos;
  if (!has_wide_forms && text.find("\u3000") == std::string_view::npos) return std::string(text);
  std::u32string characters;
  for (const char32_t character : base::code_points(text)) {
    const char32_t value = folded(character);
    const char32_t both = characters.empty() ? 0 : composed(characters.back(), value);
    if (both != 0) {
      characters.back() = both;
    } else {
      characters += value;
    }
  }
  std::string out;
  for (const char32_t value : characters) base::append_utf8(out, value);
  return out;
}

bool is_space(char32_t value) {
  if (value < 0x80) return value == ' ' || (value >= '\t' && value <= '\r');
  return base::is_white_space(value) || is_in(kInvisibleSpaces, value);
}

bool is_dash(char32_t value) {
  return is_in(kDashes, folded(value));
}

bool is_dot(char32_t value) {
  return is_in(kDots, folded(value));
}

std::string_view trimmed(std::string_view text) {
  text.remove_prefix(front_until(text, [](char32_t c) { return !is_space(c); }).size());
  std::size_t end = 0;
  for (std::size_t at = 0; at < text.size();) {
    const base::CodePoint point = base::first_code_point(text.substr(at));
    at += point.size;
    if (!is_space(point.value)) end = at;
  }
  return text.substr(0, end);
}

std::string_view first_word(std::string_view text) {
  return front_until(text, is_space);
}

std::string shown(std::string_view text) {
  std::string out = "`";
  std::size_t count = 0;
  for (; !text.empty() && count < kMostShown; ++count) {
    const base::CodePoint point = base::first_code_point(text);
    const bool control = point.value < 0x20 || (point.value >= 0x7F && point.value < 0xA0);
    const bool bidi = (point.value >= 0x202A && point.value <= 0x202E) ||
                      (point.value >= 0x2066 && point.value <= 0x2069);
    if (control || bidi || point.value == 0xFEFF || point.value == 0x200B) {
      out += fmt::format("U+{:04X}", static_cast<std::uint32_t>(point.value));
    } else {
      out.append(text.substr(0, point.size));
    }
    text.remove_prefix(point.size);
  }
  if (!text.empty()) out += "…";
  return out + "`";
}

Brace take_apart(std::string_view text) {
  constexpr std::string_view kWideClose = "｝";
  text.remove_prefix(base::first_code_point(text).size);
  text.remove_suffix(text.ends_with(kWideClose) ? kWideClose.size() : 1);
  text = trimmed(text);
  const std::string_view name =
      front_until(text, [](char32_t c) { return is_space(c) || folded(c) == U'"'; });
  return {folded(name), trimmed(text.substr(name.size()))};
}

}  // namespace yubifu::notation
