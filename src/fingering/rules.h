// The rules about a score and the flute that plays it.
#pragma once

#include <vector>

#include "base/diagnostic.h"

namespace yubifu::fingering {

namespace rule {
using base::Rule;
using base::Severity;

inline constexpr Rule no_flute_given{
    "no-flute-given", Severity::note,
    "A score should name its flute; one that does not is taken for size 8.", "三 五 六\n",
    "flute: 8\n\n三 五 六 |=\n"};
inline constexpr Rule sign_not_on_flute{"sign-not-on-flute", Severity::error,
                                        "Each sign must stand in the table of the flute in force.",
                                        "flute: 6\n\n5 6̇ 5 - |=\n", "flute: 6\n\n5 3̇ 5 - |=\n"};
inline constexpr Rule half_hole_not_on_flute{
    "half-hole-not-on-flute", Severity::error,
    "A half hole must stand in the table of the flute in force; 一メ, 四メ and 筒メ exist on none "
    "of the built-in ones.",
    "flute: 6\n\n五 四メ 五 - |=\n", "flute: 6\n\n五 三 五 - |=\n"};
inline constexpr Rule bend_too_far{
    "bend-too-far", Severity::warning,
    "A bend should stay within what the flute allows in that register.",
    "flute: 6\n\n三 五↑90 三 - |=\n", "flute: 6\n\n三 五↑20 三 - |=\n"};
inline constexpr Rule out_of_reach{
    "out-of-reach", Severity::warning,
    "A pitch that the flute has no fingers for stays in the score as a gap.",
    "flute: 6\n\n三 ?F#3 三 - |=\n", "flute: 6\n\n三 筒 三 - |=\n"};
inline constexpr Rule needless_gap{"needless-gap", Severity::warning,
                                   "A gap is for a pitch that the flute has no fingers for.",
                                   "flute: 6\n\n三 ?C5 三 - |=\n", "flute: 6\n\n三 二 三 - |=\n"};
inline constexpr Rule holes_of_another_flute{
    "holes-of-another-flute", Severity::warning,
    "A pattern asked for with {holes} must have as many holes as the flute.",
    "flute: 6\n\n三{holes ○●●●●○} 五 三 - |=\n", "flute: 6\n\n三{holes ○●●●○○○} 五 三 - |=\n"};
inline constexpr Rule asked_holes_left_out{
    "asked-holes-left-out", Severity::warning,
    "A pattern asked for with {holes} is left out where the note gets new fingers.",
    "a note with {holes} and the option --refinger, when another sign is found for it",
    "the same note without --refinger"};
inline constexpr Rule fingering_disagrees{
    "fingering-disagrees", Severity::warning,
    "The fingering of a staff note should sound the written pitch, to the nearest semitone.",
    "a staff note E5 that carries the fingering 四 on a size 8 flute",
    "a staff note F5 that carries the fingering 四 on a size 8 flute"};
inline constexpr Rule annotation_taken{
    "annotation-taken", Severity::note,
    "A verse of song text that holds nothing but the right signs is read as the fingering.",
    "a staff with the verse 一 二 三 under do, re and mi of its flute",
    "the same staff with the verse named fingering"};
inline constexpr Rule octave_shifted{
    "octave-shifted", Severity::note,
    "A melody moved by octaves to lie on the flute no longer sounds at its written pitch.",
    "a staff melody below the flute's range, fingered without --octave",
    "the same melody written where the flute plays it"};
inline constexpr Rule flute_not_built_in{
    "flute-not-built-in", Severity::error,
    "A change of flute must end at one of the sizes 1 to 13.",
    "a score for size 6 that changes to size 12, with --flute 8",
    "a score for size 6 that changes to size 7, with --flute 8"};
inline constexpr Rule flute_not_moved{
    "flute-not-moved", Severity::warning,
    "Where a flute file stands in for a size or the other way round, a change of flute inside the "
    "score cannot follow and stays as it is.",
    "a score for size 6 that changes to size 7, with the flute of a file",
    "a score for size 6 without a change of flute, with the flute of a file"};
inline constexpr Rule flute_file_not_read{
    "flute-file-not-read", Severity::error, "A flute given by a file needs that file.",
    "a score whose flute is a file, where no files are read", "a score whose flute is a size"};
}  // namespace rule

/// All of them, in the order above.
inline const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::no_flute_given,         &rule::sign_not_on_flute,    &rule::half_hole_not_on_flute,
      &rule::bend_too_far,           &rule::out_of_reach,         &rule::needless_gap,
      &rule::holes_of_another_flute, &rule::asked_holes_left_out, &rule::fingering_disagrees,
      &rule::annotation_taken,       &rule::octave_shifted,       &rule::flute_not_built_in,
      &rule::flute_not_moved,        &rule::flute_file_not_read};
  return list;
}

}  // namespace yubifu::fingering
