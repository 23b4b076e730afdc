#include "scorejson/words.h"

#include <fmt/format.h>

#include "model/note.h"

namespace yubifu::scorejson {
namespace {

using model::Rational;

// The fastest tempo of a Standard MIDI File: a quarter note of one microsecond.
constexpr Rational kFastest(60'000'000);

}  // namespace

std::string tempo_text(const model::Tempo& tempo) {
  const std::string decimal = model::to_decimal(tempo.per_minute);
  const bool exact = model::parse_decimal(decimal) == tempo.per_minute;
  return fmt::format("{}={}", model::beat_text(tempo.unit),
                     exact ? decimal : model::to_text(tempo.per_minute));
}

std::optional<model::Tempo> parse_tempo_text(std::string_view text, Rational usual) {
  model::Tempo tempo{0, usual};
  if (const std::size_t equals = text.find('='); equals != std::string_view::npos) {
    const auto unit = model::parse_rational(text.substr(0, equals));
    if (!unit || *unit <= Rational(0) || *unit > Rational(16)) return std::nullopt;
    tempo.unit = *unit * 4;
    text.remove_prefix(equals + 1);
  }
  const bool fraction = text.find('/') != std::string_view::npos;
  const auto number = fraction ? model::parse_rational(text) : model::parse_decimal(text);
  if (!number || *number <= Rational(0) || *number > kFastest) return std::nullopt;
  tempo.per_minute = *number;
  return tempo;
}

std::string tones_text(const std::vector<model::Tone>& tones) {
  std::string text;
  for (const model::Tone& tone : tones) text += (text.empty() ? "" : " ") + model::printed(tone);
  return text;
}

std::optional<model::Tone> parse_tone_text(std::string_view text) {
  if (auto gap = model::parse_gap(text)) return gap;
  model::Tone tone;
  tone.fingering = model::parse_printed_of_any_flute(text);
  return tone.fingering ? std::optional(tone) : std::nullopt;
}

}  // namespace yubifu::scorejson
