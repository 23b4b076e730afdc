#include "model/flute_name.h"

#include <array>

#include <fmt/format.h>

#include "base/numbers.h"
#include "base/utf8.h"
#include "model/pitch.h"

namespace yubifu::model {
namespace {

constexpr std::array<std::string_view, 14> kKanji{"",   "一", "二", "三", "四",   "五",   "六",
                                                  "七", "八", "九", "十", "十一", "十二", "十三"};

// In bytes, with every wide character there is.
constexpr std::size_t kLongestSize = 64;

constexpr char32_t kMinus = 0x2212;

std::string with_plain_digits(std::string_view text) {
  std::string out;
  for (const char32_t point : base::code_points(text)) {
    base::append_utf8(out, point == kMinus ? U'-' : base::narrowed(point));
  }
  return out;
}

std::optional<Rational> parse_size(std::string_view text) {
  for (const std::string_view count : {"本調子", "本"}) {
    if (!text.ends_with(count)) continue;
    text.remove_suffix(count.size());
    break;
  }
  std::optional<Rational> size = parse_decimal(text);
  for (std::size_t number = 1; number < kKanji.size(); ++number) {
    if (text == kKanji[number]) size = Rational(static_cast<std::int64_t>(number));
  }
  if (!size || *size < Rational(1) || *size > Rational(13) || !(*size * 2).is_whole()) {
    return std::nullopt;
  }
  return size;
}

}  // namespace

std::optional<int> parse_offset(std::string_view text) {
  if (text.size() < 3 || !text.ends_with('c')) return std::nullopt;
  const auto cents = base::whole_number(text.substr(1, text.size() - 2));
  if (!cents || *cents < 0 || *cents > 99) return std::nullopt;
  return text.front() == '-' ? -*cents : *cents;
}

std::string to_text(const FluteName& name) {
  if (const auto* file = std::get_if<FlutePath>(&name)) return file->path;
  const FluteSize& size = std::get<FluteSize>(name);
  std::string text = to_decimal(size.size);
  if (size.cents != 0) text += fmt::format("{:+}c", size.cents);
  return text;
}

std::optional<int> size_with_ichi(std::string_view note) {
  constexpr std::string_view kPipe = "管";
  if (note.ends_with(kPipe)) note.remove_suffix(kPipe.size());
  const auto spelling = parse_spelling(std::string(note) + "4");
  if (!spelling) return std::nullopt;
  return pitch_class(midi_key(*spelling) - (kKeyUnderSizeOne + 1)) + 1;
}

std::optional<FluteName> parse_flute_name(std::string_view text) {
  if (text.ends_with(".json") || text.find('/') != std::string_view::npos) {
    return FlutePath{std::string(text)};
  }
  if (text.size() > kLongestSize) return std::nullopt;
  const std::string plain = with_plain_digits(text);
  const std::size_t sign = plain.find_first_of("+-");
  const auto size = parse_size(std::string_view(plain).substr(0, sign));
  const auto cents =
      sign == std::string::npos ? 0 : parse_offset(std::string_view(plain).substr(sign));
  if (!size || !cents) return std::nullopt;
  return FluteSize{*size, *cents};
}

}  // namespace yubifu::model
