// The words that stand for values in a score JSON, shared by reader and writer. A function
// `…_named` reads exactly the words that `word_of` gives and `…_words` lists; nothing comes of any
// other text.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "model/score.h"

namespace yubifu::scorejson {

/// What a score JSON begins with.
inline constexpr std::string_view kVersionKey = "yubifu-score";
inline constexpr std::int64_t kVersion = 1;

/// What stands at the end of a measure: the bar line and whether a repeat ends there.
struct RightSide {
  model::BarStyle style = model::BarStyle::regular;
  bool repeat_end = false;

  friend bool operator==(const RightSide&, const RightSide&) = default;
};

/// "regular", "section", "final", "repeat", "section-repeat", "final-repeat".
std::string_view word_of(const RightSide& side);
std::optional<RightSide> right_side_named(std::string_view word);
std::vector<std::string_view> right_side_words();

/// "none", "system", "line", "blank-line".
std::string_view word_of(model::LineBreak value);
std::optional<model::LineBreak> line_break_named(std::string_view word);
std::vector<std::string_view> line_break_words();

/// At the start of a measure: a repeat, or nothing.
inline constexpr std::string_view kLeftRegular = "regular";
inline constexpr std::string_view kLeftRepeat = "repeat";

/// "", "under", "over".
std::string_view word_of(model::HalfHole half);
std::optional<model::HalfHole> half_hole_named(std::string_view word);
std::vector<std::string_view> half_hole_words();

/// Marks with a value.
inline constexpr std::string_view kGraceBefore = "pre";
inline constexpr std::string_view kGraceAfter = "post";
inline constexpr std::string_view kAskedHoles = "holes";

/// A tempo with its unit, exact also where no decimal is: "1/4=76", "1/4=20000000/166667".
std::string tempo_text(const model::Tempo& tempo);

/// Reads it; without a unit it counts `usual`.
std::optional<model::Tempo> parse_tempo_text(std::string_view text, model::Rational usual);

/// Several tones as printed, with a space between.
std::string tones_text(const std::vector<model::Tone>& tones);

/// Reads one tone as printed, also with a sign that only a flute file defines; nothing for other
/// text.
std::optional<model::Tone> parse_tone_text(std::string_view text);

}  // namespace yubifu::scorejson
