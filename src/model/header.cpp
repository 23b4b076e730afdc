#include "model/header.h"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "base/word_table.h"
#include "model/words.h"

namespace yubifu::model {
namespace {

constexpr std::string_view kAnyText = base::catalogued("text");

struct Field {
  HeaderKey key;
  std::string_view word;
  std::optional<std::string> (*text)(const Header&);
  bool (*set)(Header&, const std::string&);
  std::string_view expected;
};

template <std::string Header::*member>
constexpr Field name_field(HeaderKey key, std::string_view word) {
  return {key, word,
          [](const Header& header) {
            const std::string& text = header.*member;
            return text.empty() ? std::nullopt : std::optional(text);
          },
          [](Header& header, const std::string& text) {
            header.*member = text;
            return true;
          },
          kAnyText};
}

// Takes what a parser made of the text, if it made anything.
template <typename To, typename From>
bool take(To& to, std::optional<From> from) {
  if (!from) return false;
  to = *std::move(from);
  return true;
}

// The text of a value, where there is one.
template <typename Value, typename Text>
std::optional<std::string> text_of(const std::optional<Value>& value, Text text) {
  return value ? std::optional<std::string>(text(*value)) : std::nullopt;
}

constexpr auto kText = [](const auto& value) { return to_text(value); };
constexpr auto kWord = [](const auto& value) { return word_of(value); };

constexpr std::array<Field, 14> kFields{{
    name_field<&Header::title>(HeaderKey::title, "title"),
    name_field<&Header::subtitle>(HeaderKey::subtitle, "subtitle"),
    name_field<&Header::composer>(HeaderKey::composer, "composer"),
    name_field<&Header::lyricist>(HeaderKey::lyricist, "lyricist"),
    name_field<&Header::source>(HeaderKey::source, "source"),
    name_field<&Header::rights>(HeaderKey::rights, "rights"),
    {HeaderKey::flute, "flute", [](const Header& h) { return text_of(h.flute, kText); },
     [](Header& h, const std::string& text) { return take(h.flute, parse_flute_name(text)); },
     base::catalogued("a size such as `6`, or the path of a flute file")},
    {HeaderKey::tuning, "tuning",
     [](const Header& h) {
       return text_of(h.tuning_hz, [](double hertz) { return fmt::format("{}", hertz); });
     },
     [](Header& h, const std::string& text) { return take(h.tuning_hz, parse_tuning(text)); },
     base::catalogued("A4 in Hz from 300 to 600, such as `442`")},
    {HeaderKey::meter, "meter", [](const Header& h) { return std::optional(to_text(h.meter)); },
     [](Header& h, const std::string& text) { return take(h.meter, parse_meter(text)); },
     base::catalogued("1 to 64 beats over a power of two up to 128, such as `4/4`, or `free`")},
    {HeaderKey::beat, "beat", [](const Header& h) { return text_of(h.beat, beat_text); },
     [](Header& h, const std::string& text) { return take(h.beat, parse_beat(text)); },
     base::catalogued("a part of a whole note, such as `1/8` or `3/8`")},
    {HeaderKey::tempo, "tempo",
     [](const Header& h) {
       const Rational felt = felt_beat(h.meter, first_beat(h));
       return text_of(h.tempo, [&](const Tempo& tempo) { return to_text(tempo, felt); });
     },
     [](Header& h, const std::string& text) {
       return take(h.tempo, parse_tempo(text, felt_beat(h.meter, first_beat(h))));
     },
     base::catalogued("beats a minute up to 1000, as `76` or `1/8=180`")},
    {HeaderKey::key, "key", [](const Header& h) { return text_of(h.key, kText); },
     [](Header& h, const std::string& text) { return take(h.key, parse_key(text)); },
     base::catalogued("the sounding key, as `C`, `Bb` or `F# minor`")},
    {HeaderKey::staff, "staff", [](const Header& h) { return text_of(h.staff, kWord); },
     [](Header& h, const std::string& text) {
       return take(h.staff, kStaffModeWords.value_of(text));
     },
     base::catalogued("`in-c` or `sounding`")},
    {HeaderKey::zero, "zero",
     [](const Header& h) {
       return text_of(h.zero == ZeroSign::cross ? std::nullopt : std::optional(h.zero), kWord);
     },
     [](Header& h, const std::string& text) { return take(h.zero, kZeroSignWords.value_of(text)); },
     base::catalogued("`cross` or `tube`")},
}};
static_assert(base::is_in_order(kFields, &Field::key));

const Field& field_of(HeaderKey key) {
  return kFields[static_cast<std::size_t>(key)];
}

}  // namespace

std::string_view word_of(HeaderKey key) {
  return field_of(key).word;
}

std::optional<HeaderKey> header_key(std::string_view word) {
  for (const Field& field : kFields) {
    if (field.word == word) return field.key;
  }
  return std::nullopt;
}

std::optional<HeaderKey> header_key(std::string_view word, std::span<const HeaderKey> kept) {
  const auto key = header_key(word);
  return key && std::find(kept.begin(), kept.end(), *key) != kept.end() ? key : std::nullopt;
}

std::vector<HeaderKey> header_keys() {
  std::vector<HeaderKey> keys;
  for (const Field& field : kFields) keys.push_back(field.key);
  return keys;
}

std::vector<std::string_view> header_words() {
  std::vector<std::string_view> words;
  for (const Field& field : kFields) words.push_back(field.word);
  return words;
}

std::optional<std::string> field_text(const Header& header, HeaderKey key) {
  return field_of(key).text(header);
}

bool set_field(Header& header, HeaderKey key, const std::string& text) {
  return field_of(key).set(header, text);
}

std::string_view expected_value(HeaderKey key) {
  return field_of(key).expected;
}

bool holds_any_text(HeaderKey key) {
  return field_of(key).expected == kAnyText;
}

Rational first_beat(const Header& header) {
  return header.beat.value_or(default_beat(header.meter));
}

}  // namespace yubifu::model
