#include "scorejson/words.h"

#include <fmt/format.h>

#include "base/word_table.h"
#include "model/note.h"

namespace yubifu::scorejson {
namespace {

using model::BarStyle;
using model::HalfHole;
using model::LineBreak;
using model::Rational;

// The fastest tempo of a Standard MIDI File: a quarter note of one microsecond.
constexpr Rational kFastest(60'000'000);

constexpr auto kRightSides = base::word_table<RightSide>({
    {{BarStyle::regular, false}, "regular"},
    {{BarStyle::section, false}, "section"},
    {{BarStyle::final, false}, "final"},
    {{BarStyle::regular, true}, "repeat"},
    {{BarStyle::section, true}, "section-repeat"},
    {{BarStyle::final, true}, "final-repeat"},
});

constexpr auto kLineBreaks = base::word_table<LineBreak>({
    {LineBreak::none, "none"},
    {LineBreak::system, "system"},
    {LineBreak::line, "line"},
    {LineBreak::blank_line, "blank-line"},
});

constexpr auto kHalfHoles = base::word_table<HalfHole>({
    {HalfHole::none, ""},
    {HalfHole::under, "under"},
    {HalfHole::over, "over"},
});

}  // namespace

std::string_view word_of(const RightSide& side) {
  return kRightSides.word_of(side);
}
std::optional<RightSide> right_side_named(std::string_view word) {
  return kRightSides.value_of(word);
}
std::vector<std::string_view> right_side_words() {
  return kRightSides.words();
}

std::string_view word_of(LineBreak value) {
  return kLineBreaks.word_of(value);
}
std::optional<LineBreak> line_break_named(std::string_view word) {
  return kLineBreaks.value_of(word);
}
std::vector<std::string_view> line_break_words() {
  return kLineBreaks.words();
}

std::string_view word_of(HalfHole half) {
  return kHalfHoles.word_of(half);
}
std::optional<HalfHole> half_hole_named(std::string_view word) {
  return kHalfHoles.value_of(word);
}
std::vector<std::string_view> half_hole_words() {
  return kHalfHoles.words();
}

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
