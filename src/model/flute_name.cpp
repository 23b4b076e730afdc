#include "model/flute_name.h"

#include <array>
#include <charconv>
#include <cstdlib>
#include <utility>

#include <fmt/format.h>

#include "model/pitch.h"

namespace yubifu::model {
namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 15> kPlainSpellings{{
    {"０", "0"},
    {"１", "1"},
    {"２", "2"},
    {"３", "3"},
    {"４", "4"},
    {"５", "5"},
    {"６", "6"},
    {"７", "7"},
    {"８", "8"},
    {"９", "9"},
    {"．", "."},
    {"＋", "+"},
    {"－", "-"},
    {"−", "-"},
    {"ｃ", "c"},
}};

constexpr std::array<std::string_view, 14> kKanji{"",   "一", "二", "三", "四",   "五",   "六",
                                                  "七", "八", "九", "十", "十一", "十二", "十三"};

// In bytes, with every wide character there is.
constexpr std::size_t kLongestSize = 64;

constexpr std::string_view kCount = "本";
constexpr std::string_view kPitchCount = "本調子";

std::string with_plain_digits(std::string_view text) {
  std::string out(text);
  for (const auto& [wide, plain] : kPlainSpellings) {
    for (std::size_t at = out.find(wide); at != std::string::npos; at = out.find(wide, at)) {
      out.replace(at, wide.size(), plain);
    }
  }
  return out;
}

std::optional<Rational> parse_size(std::string_view text) {
  if (text.ends_with(kPitchCount)) {
    text.remove_suffix(kPitchCount.size());
  } else if (text.ends_with(kCount)) {
    text.remove_suffix(kCount.size());
  }
  std::optional<Rational> size;
  for (std::size_t number = 1; number < kKanji.size(); ++number) {
    if (text == kKanji[number]) size = Rational(static_cast<std::int64_t>(number));
  }
  if (!size) size = parse_decimal(text);
  if (!size || *size < Rational(1) || *size > Rational(13) || !(*size * 2).is_whole()) {
    return std::nullopt;
  }
  return size;
}

// "+15c" or "-8c", whole cents below a semitone.
std::optional<int> parse_offset(std::string_view text) {
  if (!text.ends_with('c') || text.size() < 3) return std::nullopt;
  const std::string_view digits = text.substr(1, text.size() - 2);
  int cents = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), cents);
  const bool whole = error == std::errc{} && end == digits.data() + digits.size();
  if (!whole || cents < 0 || cents > 99) return std::nullopt;
  return text.front() == '-' ? -cents : cents;
}

}  // namespace

std::string to_text(const FluteName& name) {
  if (const auto* file = std::get_if<FlutePath>(&name)) return file->path;
  const FluteSize& size = std::get<FluteSize>(name);
  std::string text = to_decimal(size.size);
  if (size.cents != 0) text += fmt::format("{:+}c", size.cents);
  return text;
}

std::optional<int> size_with_ichi(std::string_view note) {
  constexpr int kOctave = 12;
  constexpr std::string_view kPipe = "管";
  if (note.ends_with(kPipe)) note.remove_suffix(kPipe.size());
  const auto spelling = parse_spelling(std::string(note) + "4");
  if (!spelling) return std::nullopt;
  const int above = midi_key(*spelling) - (kKeyUnderSizeOne + 1);
  return (above % kOctave + kOctave) % kOctave + 1;
}

std::optional<FluteName> parse_flute_name(std::string_view text) {
  if (text.ends_with(".json") || text.find('/') != std::string_view::npos) {
    return FlutePath{std::string(text)};
  }
  if (text.size() > kLongestSize) return std::nullopt;
  const std::string plain = with_plain_digits(text);
  const std::size_t sign = plain.find_first_of("+-");
  const auto size = parse_size(std::string_view(plain).substr(0, sign));
  if (!size) return std::nullopt;
  if (sign == std::string::npos) return FluteSize{*size, 0};
  const auto cents = parse_offset(std::string_view(plain).substr(sign));
  if (!cents) return std::nullopt;
  return FluteSize{*size, *cents};
}

}  // namespace yubifu::model
