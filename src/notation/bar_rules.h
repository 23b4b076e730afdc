// Rules about holds, groups, bars and the form they make, about free-standing braces and song text.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::notation::rule {

using base::Rule;
using base::Severity;

inline constexpr Rule hold_without_note{
    "hold-without-note", Severity::error,
    "A hold stands after a note; not after a rest, at the start or behind {flute}.", "五 ・ - |\n",
    "五 ・ ・ |\n"};
inline constexpr Rule group_size{"group-size", Severity::error,
                                 "A group has at least two words, but for a fraction of a word.",
                                 "五 (六) |\n", "五 六 |\n"};
inline constexpr Rule unclosed_group{"unclosed-group", Severity::error,
                                     "A group closes before the bar does.", "(五 六 | 七 - - - |\n",
                                     "(五 六) | 七 - - - |\n"};
inline constexpr Rule unopened_group{"unopened-group", Severity::error,
                                     "A closing bracket has an opening one in the same bar.",
                                     "五 六) |\n", "(五 六) |\n"};
inline constexpr Rule bad_group_length{
    "bad-group-length", Severity::error,
    "The length of a group is a whole number of words from 2, or a fraction below one.",
    "(五 六):1 |\n", "(五 六) |\n"};
inline constexpr Rule fraction_place{
    "fraction-place", Severity::error,
    "A fraction of a word is the first word of a pickup or of the bar after a repeat sign inside a "
    "bar, and the last of any other bar.",
    "(五):1/2 六 七 (六):1/2 |\n", "(五):1/2 六 七 |\n"};
inline constexpr Rule bar_overflow{
    "bar-overflow", Severity::error, "Every duration of a bar can be held as an exact fraction.",
    "a bar with thirty groups of unlike primes that nest", "a bar of four beats"};

inline constexpr Rule bar_length{
    "bar-length", Severity::error,
    "A bar lasts as long as its meter says, unless it is the first, a meter or an ending stands "
    "beside it, it completes another short bar, or {irregular} stands first in it.",
    "五 六 七 六 | 五 六 七 |=\n", "五 六 七 六 | 五 六 七 - |=\n"};
inline constexpr Rule needless_irregular{"needless-irregular", Severity::note,
                                         "{irregular} stands in bars that need it.",
                                         "{irregular} 五 六 七 六 |\n", "五 六 七 六 |\n"};
inline constexpr Rule same_bar_place{"same-bar-place", Severity::error,
                                     "`%` stands alone in a bar that has one before it.",
                                     "五 六 七 六 | % 五 |\n", "五 六 七 六 | % |\n"};
inline constexpr Rule bar_sign_place{"bar-sign-place", Severity::error,
                                     "`||`, `|=` and `:|` end a bar, so there is one before them.",
                                     ":| 五 六 |\n", "|: 五 六 :|\n"};
inline constexpr Rule bad_repeat_count{"bad-repeat-count", Severity::error,
                                       "A repeat is played 2 to 99 times.", "|: 五 六 :|x1\n",
                                       "|: 五 六 :|x3\n"};
inline constexpr Rule nested_repeat{"nested-repeat", Severity::error, "Repeats do not nest.",
                                    "|: 五 六 |: 七 六 :|\n", "|: 五 六 :| |: 七 六 :|\n"};
inline constexpr Rule ending_place{
    "ending-place", Severity::error,
    "{ending end} closes an ending that is open; an ending does not open twice.",
    "五 六 || {ending end} 七 六 ||\n", "{ending 1} 五 六 :| {ending 2} 七 六 ||\n"};

inline constexpr Rule unclosed_brace{"unclosed-brace", Severity::error,
                                     "A brace closes on its line.", "五 {rit 六 | 七 - - - |\n",
                                     "五 {rit} 六 | 七 - - - |\n"};
inline constexpr Rule unopened_brace{"unopened-brace", Severity::error,
                                     "A closing brace has an opening one on its line.", "五 } |\n",
                                     "五 {rit} |\n"};
inline constexpr Rule unknown_direction{"unknown-direction", Severity::error,
                                        "A free-standing brace holds one of the known directions.",
                                        "五 {rot} 六 |\n", "五 {rit} 六 |\n"};
inline constexpr Rule glued_direction{"glued-direction", Severity::error,
                                      "White space parts a direction from the words around it.",
                                      "五{rit} 六 |\n", "五 {rit} 六 |\n"};
inline constexpr Rule direction_place{
    "direction-place", Severity::error,
    "A direction stands where its kind may stand: at the start of a bar, at its end, or anywhere.",
    "五 {segno} 六 |\n", "{segno} 五 六 |\n"};
inline constexpr Rule direction_twice{
    "direction-twice", Severity::error,
    "Meter, beat, flute, tempo, key, ending and irregular are said once at one place.",
    "五 {tempo 60} {tempo 90} 六 |\n", "五 {tempo 90} 六 |\n"};
inline constexpr Rule bad_direction_value{"bad-direction-value", Severity::error,
                                          "The value of a direction has the form it asks for.",
                                          "五 {tempo fast} 六 |\n", "五 {tempo 120} 六 |\n"};
inline constexpr Rule unknown_dynamic{"unknown-dynamic", Severity::warning,
                                      "A dynamic is one of the usual levels; another one is kept "
                                      "as text.",
                                      "{dyn fm} 五 |\n", "{dyn mf} 五 |\n"};

inline constexpr Rule song_without_music{"song-without-music", Severity::error,
                                         "A song line stands under a line of music.",
                                         "> ka ze\n五 六 |\n", "五 六 |\n> ka ze\n"};
inline constexpr Rule unknown_verse{"unknown-verse", Severity::error,
                                    "A song line begins with `>`, with `>2` to `>99`, or with "
                                    "`>shoga`, and a space.",
                                    "五 六 |\n>ka ze\n", "五 六 |\n> ka ze\n"};
inline constexpr Rule verse_twice{"verse-twice", Severity::error,
                                  "Each verse has one song line under a line of music.",
                                  "五 六 |\n> ka ze\n> a me\n", "五 六 |\n> ka ze\n>2 a me\n"};
inline constexpr Rule verse_too_long{"verse-too-long", Severity::error,
                                     "A song line has no more words than its music has notes.",
                                     "五 六 |\n> ka ze ga\n", "五 六 七 |\n> ka ze ga\n"};
inline constexpr Rule verse_too_short{"verse-too-short", Severity::warning,
                                      "A song line has a word, `~` or `/` for each note.",
                                      "五 六 七 |\n> ka ze\n", "五 六 七 |\n> ka ze ~\n"};
inline constexpr Rule bad_syllable{
    "bad-syllable", Severity::error,
    "A hyphen ends a syllable, `~` follows one, a backslash precedes a character.",
    "五 六 |\n> ka -\n", "五 六 |\n> ka ~\n"};

}  // namespace yubifu::notation::rule
