#include "scorejson/header_fields.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/translation.h"
#include "model/tuning.h"
#include "model/words.h"
#include "scorejson/words.h"

namespace yubifu::scorejson {
namespace {

using model::Header;

// How one field is written and read; `set` is false for text that it does not know.
struct Field {
  std::string_view key;
  std::optional<std::string> (*get)(const Header&);
  bool (*set)(Header&, const std::string&);
  std::string_view expected;
};

template <std::string Header::*member>
constexpr Field name_field(std::string_view key) {
  return {key,
          [](const Header& header) {
            const std::string& text = header.*member;
            return text.empty() ? std::nullopt : std::optional(text);
          },
          [](Header& header, const std::string& text) {
            header.*member = text;
            return true;
          },
          base::catalogued("text")};
}

// Takes what a parser made of the text, if it made anything.
template <typename To, typename From>
bool take(To& to, std::optional<From> from) {
  if (!from) return false;
  to = std::move(*from);
  return true;
}

model::Rational beat_of(const Header& header) {
  return header.beat.value_or(model::default_beat(header.meter));
}

constexpr std::array<Field, 14> kFields{{
    name_field<&Header::title>("title"),
    name_field<&Header::subtitle>("subtitle"),
    name_field<&Header::composer>("composer"),
    name_field<&Header::lyricist>("lyricist"),
    name_field<&Header::source>("source"),
    name_field<&Header::rights>("rights"),
    {"meter", [](const Header& h) { return std::optional(model::to_text(h.meter)); },
     [](Header& h, const std::string& text) { return take(h.meter, model::parse_meter(text)); },
     base::catalogued("a meter such as 3/4, or free")},
    {"beat",
     [](const Header& h) {
       return h.beat ? std::optional(model::beat_text(*h.beat)) : std::nullopt;
     },
     [](Header& h, const std::string& text) { return take(h.beat, model::parse_beat(text)); },
     base::catalogued("a note value such as 1/8")},
    {"flute",
     [](const Header& h) {
       return h.flute ? std::optional(model::to_text(*h.flute)) : std::nullopt;
     },
     [](Header& h, const std::string& text) {
       return take(h.flute, model::parse_flute_name(text));
     },
     base::catalogued("a size from 1 to 13, or the path of a flute file")},
    {"tuning",
     [](const Header& h) {
       return h.tuning_hz ? std::optional(fmt::format("{}", *h.tuning_hz)) : std::nullopt;
     },
     [](Header& h, const std::string& text) {
       return take(h.tuning_hz, model::parse_tuning(text));
     },
     base::catalogued("the pitch of A4 in Hz")},
    {"tempo",
     [](const Header& h) { return h.tempo ? std::optional(tempo_text(*h.tempo)) : std::nullopt; },
     [](Header& h, const std::string& text) {
       return take(h.tempo, parse_tempo_text(text, model::felt_beat(h.meter, beat_of(h))));
     },
     base::catalogued("beats a minute such as 76 or 1/8=180")},
    {"key",
     [](const Header& h) { return h.key ? std::optional(model::to_text(*h.key)) : std::nullopt; },
     [](Header& h, const std::string& text) { return take(h.key, model::parse_key(text)); },
     base::catalogued("a key such as Bb or F# minor")},
    {"staff",
     [](const Header& h) {
       return h.staff ? std::optional(std::string(model::word_of(*h.staff))) : std::nullopt;
     },
     [](Header& h, const std::string& text) {
       return take(h.staff, model::staff_mode_named(text));
     },
     base::catalogued("in-c or sounding")},
    {"zero",
     [](const Header& h) {
       return h.zero == model::ZeroSign::cross ? std::nullopt
                                               : std::optional(std::string(model::word_of(h.zero)));
     },
     [](Header& h, const std::string& text) { return take(h.zero, model::zero_sign_named(text)); },
     base::catalogued("cross or tube")},
}};

const Field* field_named(std::string_view key) {
  const auto* found = std::find_if(kFields.begin(), kFields.end(),
                                   [&](const Field& field) { return field.key == key; });
  return found == kFields.end() ? nullptr : found;
}

}  // namespace

std::vector<HeaderText> header_texts(const Header& header) {
  std::vector<HeaderText> texts;
  for (const Field& field : kFields) {
    if (auto text = field.get(header)) texts.push_back({field.key, std::move(*text)});
  }
  return texts;
}

bool is_header_key(std::string_view key) {
  return field_named(key) != nullptr;
}

std::vector<std::string_view> header_keys() {
  std::vector<std::string_view> keys;
  for (const Field& field : kFields) keys.push_back(field.key);
  return keys;
}

FieldResult set_header_field(Header& header, std::string_view key, const std::string& text) {
  const Field* field = field_named(key);
  if (field != nullptr && field->set(header, text)) return {};
  return {false,
          base::translated(field == nullptr ? base::catalogued("a known field") : field->expected)};
}

}  // namespace yubifu::scorejson
