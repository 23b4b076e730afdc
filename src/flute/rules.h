// The rules about flute files. What is wrong with the JSON itself has rules in base.
#pragma once

#include <vector>

#include "base/diagnostic.h"

namespace yubifu::flute {

namespace rule {
using base::Rule;
using base::Severity;

inline constexpr Rule flute_ichi{
    "flute-ichi", Severity::error,
    "A flute file must say what 一 sounds: in \"ichi\", in Hz at the entry of 一, or by \"like\".",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2,
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})"};
inline constexpr Rule flute_sign{
    "flute-sign", Severity::error,
    "The sign of an entry must be a sign of the notation or one letter of its own, perhaps with メ "
    "or カ.",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "do", "register": "low", "pattern": "●○", "cents": 0}]})",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "い", "register": "low", "pattern": "●○", "cents": 0}]})"};
inline constexpr Rule flute_entry_twice{
    "flute-entry-twice", Severity::error,
    "A sign must have one entry; other patterns of it go into the list of the same entry.",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0},
             {"sign": "一", "pattern": "○●", "cents": 0}]})",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "patterns": ["●○", "○●"], "cents": 0}]})"};
inline constexpr Rule flute_pattern{
    "flute-pattern", Severity::error,
    "Each hole pattern must have one character for each hole of the flute: ● ○ ◐ ◎.",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●●○", "cents": 0}]})",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})"};
inline constexpr Rule flute_pitch{
    "flute-pitch", Severity::error,
    "An entry must give its pitch, either in cents from 一 or in Hz.",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○"}]})",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0}]})"};
inline constexpr Rule flute_temperature{
    "flute-temperature", Severity::warning,
    "Readings can only be converted to a concert temperature from the one they were taken at.",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "concert-temperature": 24,
 "entries": [{"sign": "一", "pattern": "●○", "hz": 588}]})",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "concert-temperature": 24,
 "temperature": 18, "entries": [{"sign": "一", "pattern": "●○", "hz": 588}]})"};
inline constexpr Rule flute_alike{
    "flute-alike", Severity::warning,
    "Two signs should not have the same fingers, unless one is the other overblown; nor should one "
    "sign have a pattern twice.",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0},
             {"sign": "二", "pattern": "●○", "cents": 180}]})",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0},
             {"sign": "二", "pattern": "○○", "cents": 180}]})"};
inline constexpr Rule flute_order{
    "flute-order", Severity::warning,
    "In one register the plain signs should rise in pitch; cross-fingerings need not.",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0},
             {"sign": "二", "pattern": "○○", "cents": -180}]})",
    R"({"yubifu-flute": 1, "title": "Two Holes", "holes": 2, "ichi": "D5",
 "entries": [{"sign": "一", "pattern": "●○", "cents": 0},
             {"sign": "二", "pattern": "○○", "cents": 180}]})"};
}  // namespace rule

/// All of them, in the order above.
inline const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::flute_ichi,  &rule::flute_sign,        &rule::flute_entry_twice, &rule::flute_pattern,
      &rule::flute_pitch, &rule::flute_temperature, &rule::flute_alike,       &rule::flute_order};
  return list;
}

}  // namespace yubifu::flute
