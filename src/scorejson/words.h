// The words and texts that stand for values in a score JSON, shared by reader and writer.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/word_table.h"
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

inline constexpr auto kRightSides = base::word_table<RightSide>({
    {{model::BarStyle::regular, false}, "regular"},
    {{model::BarStyle::section, false}, "section"},
    {{model::BarStyle::final, false}, "final"},
    {{model::BarStyle::regular, true}, "repeat"},
    {{model::BarStyle::section, true}, "section-repeat"},
    {{model::BarStyle::final, true}, "final-repeat"},
});

/// What stands at its start: whether a repeat begins there.
inline constexpr auto kLeftSides = base::word_table<bool>({{false, "regular"}, {true, "repeat"}});

inline constexpr auto kLineBreaks = base::word_table<model::LineBreak>({
    {model::LineBreak::none, "none"},
    {model::LineBreak::system, "system"},
    {model::LineBreak::line, "line"},
    {model::LineBreak::blank_line, "blank-line"},
});

inline constexpr auto kHalfHoles = base::word_table<model::HalfHole>({
    {model::HalfHole::none, ""},
    {model::HalfHole::under, "under"},
    {model::HalfHole::over, "over"},
});

/// Marks with a value.
inline constexpr std::string_view kGraceBefore = "pre";
inline constexpr std::string_view kGraceAfter = "post";
inline constexpr std::string_view kAskedHoles = "holes";

/// Several tones as printed, with a space between.
inline std::string tones_text(const std::vector<model::Tone>& tones) {
  std::string text;
  for (const model::Tone& tone : tones) text += (text.empty() ? "" : " ") + model::printed(tone);
  return text;
}

}  // namespace yubifu::scorejson
