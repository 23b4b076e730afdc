// The rules that model reports: form that cannot be played as it is written. The examples are
// fingering text.
#pragma once

#include <vector>

#include "base/diagnostic.h"

namespace yubifu::model {

namespace rule {
using base::Rule;
using base::Severity;

inline constexpr Rule unpaired_repeat{
    "unpaired-repeat", Severity::warning,
    "Each start of a repeat must have an end before the next start.", "|: 1 2 3 4 | 5 6 7 8 |=\n",
    "|: 1 2 3 4 | 5 6 7 8 :|\n"};
inline constexpr Rule repeat_without_start{
    "repeat-without-start", Severity::note,
    "The end of a repeat without a start goes back to the place after the repeat before it.",
    "1 2 3 4 :| 5 6 7 8 :|\n", "1 2 3 4 :| |: 5 6 7 8 :|\n"};
inline constexpr Rule ending_without_repeat{
    "ending-without-repeat", Severity::warning, "An ending must belong to a repeat.",
    "1 2 3 4 | {ending 1} 5 6 7 8 |=\n", "1 2 3 4 | {ending 1} 5 6 7 8 :| {ending 2} 1 2 3 4 |=\n"};
inline constexpr Rule ending_never_played{
    "ending-never-played", Severity::warning,
    "Each time through a repeat must have one ending, and each but the last a repeat sign.",
    "1 2 3 4 | {ending 1} 5 6 7 8 :| {ending 3} 1 2 3 4 |=\n",
    "1 2 3 4 | {ending 1} 5 6 7 8 :| {ending 2} 1 2 3 4 |=\n"};
inline constexpr Rule jump_without_target{
    "jump-without-target", Severity::warning,
    "A D.S. must have a segno before it, a to-coda must have a coda after it.",
    "1 2 3 4 | 5 6 7 8 {ds} |=\n", "{segno} 1 2 3 4 | 5 6 7 8 {ds} |=\n"};
inline constexpr Rule tie_struck_anew{
    "tie-struck-anew", Severity::warning,
    "A held note must not be parted by a repeat, an ending or a jump.",
    "1 2 3 4 | {ending 1} 5 6 7 8 :| {ending 2} - 2 3 4 |=\n",
    "1 2 3 4 | {ending 1} 5 6 7 8 :| {ending 2} 1 2 3 4 |=\n"};
inline constexpr Rule played_too_long{
    "played-too-long", Severity::error,
    "Played out, a score must not have more than 100,000 bars or 1,000,000 notes.",
    "a repeat of 2,000 bars that is played 99 times", "the same, played 20 times"};
}  // namespace rule

/// All of them, in the order above.
inline const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::unpaired_repeat,     &rule::repeat_without_start, &rule::ending_without_repeat,
      &rule::ending_never_played, &rule::jump_without_target,  &rule::tie_struck_anew,
      &rule::played_too_long};
  return list;
}

}  // namespace yubifu::model
