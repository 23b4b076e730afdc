// Rules about free-standing braces and about song text.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::notation::rule {

using base::Rule;
using base::Severity;

// --- directions ------------------------------------------------------------------------------

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

// --- song text -------------------------------------------------------------------------------

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
