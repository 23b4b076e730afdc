// The rules that check reports: what can be doubted about a score that was read without a fault,
// remarks in comments, differences between scores. Examples are mostly fingering text.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "fingering/resolve.h"

namespace yubifu::check {

namespace rule {
using base::Rule;
using base::Severity;

inline constexpr Rule third_register{
    "third-register", Severity::note,
    "Notes of the third register, and from 2,000 Hz up, are loud next to the ear; long practice "
    "calls for care.",
    "flute: 6\n\n7 8 7 - |=\n", "flute: 6\n\n七 1 七 - |=\n"};
inline constexpr Rule fast_leap{
    "fast-leap", Severity::warning,
    "A leap of an octave or more should leave time for the breath to change.",
    "flute: 6\ntempo: 160\n\n(一 5) - 一 - |=\n", "flute: 6\ntempo: 60\n\n(一 5) - 一 - |=\n"};
inline constexpr Rule long_breath{
    "long-breath", Severity::note,
    "At least every twelve seconds a score should leave a moment to breathe: a rest, a breath "
    "mark, "
    "the end of a phrase, or a note of three quarters of a second that is not slurred to the next.",
    "flute: 6\nmeter: 2/4\ntempo: 100\n\n五 六 | % | % | % | % | % | % | % | % | % | 五 六 |=\n",
    "flute: 6\nmeter: 2/4\ntempo: 100\n\n"
    "五 六 | % | % | % | % | 五 六{breath} | 五 六 | % | % | % | 五 六 |=\n"};
inline constexpr Rule lone_eight{
    "lone-eight", Severity::note,
    "An 8 between 7 and 2 is often another number, where nothing else lies so high.",
    "flute: 6\n\n7 8 2 - |=\n", "flute: 6\n\n七 1 2 - |=\n"};
inline constexpr Rule zero_or_tube{"zero-or-tube", Severity::note,
                                   "A 0 among the lowest notes is often meant as the tube tone.",
                                   "flute: 6\n\n二 一 0 一 |=\n", "flute: 6\n\n二 一 筒 一 |=\n"};
inline constexpr Rule syllable_unfinished{
    "syllable-unfinished", Severity::warning,
    "A syllable that a hyphen joins to the next one must have a next one.",
    "flute: 6\n\n五 六 七 - |=\n> あ かり- /\n", "flute: 6\n\n五 六 七 - |=\n> あ か- り\n"};
inline constexpr Rule song_gap{
    "song-gap", Severity::note,
    "Inside a verse each note of a staff should have a syllable or carry one on.",
    "a staff with the syllables ka and ze, and between them a note without text",
    "the same staff with an extension of ka on the note between"};
inline constexpr Rule short_bars{
    "short-bars", Severity::note,
    "A pickup and the short bar that ends its passage should add up to a whole one.",
    "flute: 6\n\n五 | 六 七 六 五 | {ending 1} 六 - :| {ending 2} 六 - - |=\n",
    "flute: 6\n\n五 | 六 七 六 五 | {ending 1} 六 - - :| {ending 2} 六 - - |=\n"};

inline constexpr Rule allow_form{
    "allow-form", Severity::warning,
    "A comment that allows something says `allow`, a rule, a colon and the reason.",
    "flute: 6\n\n五 六 七 - |= # allow fast-leap\n",
    "flute: 6\n\n五 六 七 - |= # the fast leap is meant\n"};
inline constexpr Rule allow_unknown{"allow-unknown", Severity::warning,
                                    "A comment can only allow a rule that exists.",
                                    "flute: 6\n\n五 六 七 - |= # allow fast-leep: it is meant\n",
                                    "flute: 6\n\n五 六 七 - |= # the fast leap is meant\n"};
inline constexpr Rule allow_idle{"allow-idle", Severity::note,
                                 "A comment should allow only what its bar breaks.",
                                 "flute: 6\n\n五 六 七 - |= # allow fast-leap: it is meant\n",
                                 "flute: 6\n\n五 六 七 - |= # the fast leap is meant\n"};

inline constexpr Rule pitch_differs{
    "pitch-differs", Severity::error, "Two files that hold the same music have the same notes.",
    "一 二 三 四 compared with 一 二 三 五", "一 二 三 四 compared with 一 二 三 四"};
inline constexpr Rule onset_differs{
    "onset-differs", Severity::error, "The notes of two files begin at the same time.",
    "一 二 三 四 compared with 一 ・ 二 三", "一 二 三 四 compared with 一 二 三 四"};
inline constexpr Rule duration_differs{
    "duration-differs", Severity::error, "The notes of two files last equally long.",
    "一 - 二 三 compared with 一 ・ 二 三", "一 - 二 三 compared with 一 - 二 三"};
inline constexpr Rule fingering_differs{"fingering-differs", Severity::error,
                                        "The notes of two files have the same fingering.",
                                        "二メ compared with 一カ", "二メ compared with 二メ"};
inline constexpr Rule marks_differ{"marks-differ", Severity::error,
                                   "The notes of two files have the same marks, grace notes and "
                                   "slurs.",
                                   "一{accent} compared with 一", "一 compared with 一"};
inline constexpr Rule lyrics_differ{"lyrics-differ", Severity::error,
                                    "The notes of two files have the same song text.",
                                    "ka ze compared with ka ge", "ka ze compared with ka ze"};
inline constexpr Rule form_differs{
    "form-differs", Severity::error, "Two files have the same bars, repeats, jumps and directions.",
    "|: 一 二 :| compared with 一 二 |=", "|: 一 二 :| compared with |: 一 二 :|"};
inline constexpr Rule header_differs{
    "header-differs", Severity::error, "The headers of two files say the same.",
    "title: Rain compared with title: Snow", "title: Rain compared with title: Rain"};
}  // namespace rule

/// Doubts about a score.
inline const std::vector<const base::Rule*>& score_rules() {
  static const std::vector<const base::Rule*> list{
      &rule::third_register, &rule::fast_leap,           &rule::long_breath, &rule::lone_eight,
      &rule::zero_or_tube,   &rule::syllable_unfinished, &rule::song_gap,    &rule::short_bars};
  return list;
}

/// Comments that allow something.
inline const std::vector<const base::Rule*>& allowance_rules() {
  static const std::vector<const base::Rule*> list{&rule::allow_form, &rule::allow_unknown,
                                                   &rule::allow_idle};
  return list;
}

/// Differences between two scores, in the order of Aspect.
inline const std::vector<const base::Rule*>& comparison_rules() {
  static const std::vector<const base::Rule*> list{
      &rule::pitch_differs, &rule::onset_differs, &rule::duration_differs, &rule::fingering_differs,
      &rule::marks_differ,  &rule::lyrics_differ, &rule::form_differs,     &rule::header_differs};
  return list;
}

/// Reports the rules about the score's own music: third register, fast leaps, long stretches
/// without a breath, numbers that look mistaken, song text, bars; and the model's rules about
/// repeats, endings and jumps that do not pair. `origin` tells how the score came, because the
/// reader of fingering text has checked some of it already.
base::Diagnostics check_score(const fingering::Resolved& resolved, fingering::Origin origin);

}  // namespace yubifu::check
