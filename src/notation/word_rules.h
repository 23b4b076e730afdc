// Rules about the text as a whole, its header, and single words: signs, what stands directly after
// them, and marks.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::notation::rule {

using base::Rule;
using base::Severity;

inline constexpr Rule not_utf8{"not-utf8", Severity::error, "Fingering text is UTF-8.",
                               "a file in Latin-1", "the same file in UTF-8"};
inline constexpr Rule other_encoding{"other-encoding", Severity::note,
                                     "A text in Shift_JIS or UTF-16 is read, and belongs in UTF-8.",
                                     "a file in Shift_JIS", "the same file in UTF-8"};
inline constexpr Rule empty_input{"empty-input", Severity::error, "A fingering text is not empty.",
                                  "\n", "五 六 |\n"};
inline constexpr Rule no_words{"no-words", Severity::error,
                               "After the header stands at least one word of music.",
                               "title: Rain\n", "title: Rain\n\n五 六 |\n"};
inline constexpr Rule size_limit{
    "size-limit", Severity::error,
    "A text holds at most 5,000,000 words, 2,000,000 notes and 500,000 bars; a word or a brace is "
    "at most 4,096 bytes long.",
    "a word of 5,000 bytes", "five words of 1,000 bytes"};
inline constexpr Rule nesting_too_deep{"nesting-too-deep", Severity::error,
                                       "Groups nest at most 64 deep.", "65 brackets that nest",
                                       "64 brackets that nest"};
inline constexpr Rule too_many_findings{"too-many-findings", Severity::error,
                                        "After 1,000 findings the rest is not told.",
                                        "a text with 2,000 faults", "the same without faults"};

inline constexpr Rule unknown_header{
    "unknown-header", Severity::warning,
    "A header line has one of the known keys; another one is kept, but nothing reads it.",
    "titel: Rain\n五 六 |\n", "title: Rain\n五 六 |\n"};
inline constexpr Rule duplicate_header{
    "duplicate-header", Severity::error, "A header key is given once.",
    "title: Rain\ntitle: Snow\n五 六 |\n", "title: Rain\nsubtitle: Snow\n五 六 |\n"};
inline constexpr Rule late_header{"late-header", Severity::error,
                                  "Header lines stand before the music.", "五 六 |\ntempo: 90\n",
                                  "五 六 | {tempo 90} 七 六 五 - |\n"};
inline constexpr Rule header_space{"header-space", Severity::error,
                                   "White space follows the colon of a header line.",
                                   "title:Rain\n五 六 |\n", "title: Rain\n五 六 |\n"};
inline constexpr Rule header_colon{"header-colon", Severity::error,
                                   "A colon follows the key of a header line.",
                                   "title Rain\n五 六 |\n", "title: Rain\n五 六 |\n"};
inline constexpr Rule bad_header_value{"bad-header-value", Severity::error,
                                       "The value of a header line has the form its key asks for.",
                                       "meter: 4/5\n五 六 |\n", "meter: 4/4\n五 六 |\n"};
inline constexpr Rule unknown_flute{
    "unknown-flute", Severity::error,
    "A flute is a size from 1 to 13, a half size, a size with an offset in cents, or the path of a "
    "flute file.",
    "flute: 14\n五 六 |\n", "flute: 13\n五 六 |\n"};
inline constexpr Rule beat_meter{
    "beat-meter", Severity::error, "The beat divides the meter into whole words.",
    "meter: 4/4\nbeat: 3/8\n五 六 |\n", "meter: 6/8\nbeat: 3/8\n五 六 |\n"};
inline constexpr Rule start_conflict{
    "start-conflict", Severity::warning,
    "A direction at the very start of the music does not contradict the header.",
    "tempo: 90\n{tempo 60} 五 六 |\n", "tempo: 60\n五 六 |\n"};

inline constexpr Rule unknown_sign{"unknown-sign", Severity::error,
                                   "A word is a sign, a hold, a rest, a gap or a group.",
                                   "五 @ |\n", "五 六 |\n"};
inline constexpr Rule two_signs{"two-signs", Severity::error, "A word holds one sign.", "五五 |\n",
                                "五 五 |\n"};
inline constexpr Rule missing_space{"missing-space", Severity::error,
                                    "White space parts two words.", "五~六 |\n", "五~ 六 |\n"};
inline constexpr Rule dot_on_digit{
    "dot-on-digit", Severity::error,
    "The dot of the third register is U+0307; a rest is a word of its own.", "2・ |\n", "2 ・ |\n"};
inline constexpr Rule half_hole_number{"half-hole-number", Severity::error,
                                       "メ and カ take no number; a bend does.", "三メ20 |\n",
                                       "三メ↓20 |\n"};
inline constexpr Rule suffix_order{"suffix-order", Severity::error,
                                   "After the sign stand the half hole, the bend, then marks.",
                                   "三↓20メ |\n", "三メ↓20 |\n"};
inline constexpr Rule suffix_twice{"suffix-twice", Severity::error,
                                   "A sign takes one half hole, one bend, one slur and each mark "
                                   "once.",
                                   "三メメ |\n", "三メ |\n"};
inline constexpr Rule bend_number{"bend-number", Severity::error,
                                  "A bend is given in whole cents from 1 to 200.", "三↓201 |\n",
                                  "三↓200 |\n"};
inline constexpr Rule bad_gap{
    "bad-gap", Severity::error,
    "A gap is a question mark and its sounding note: letter, accidental, octave.", "?c5 |\n",
    "?C5 |\n"};
inline constexpr Rule unclear_zero{
    "unclear-zero", Severity::error,
    "〇 and 零 stand for the tube tone and need `zero: tube` in the header.", "〇 |\n",
    "zero: tube\n〇 |\n"};
inline constexpr Rule look_alike{"look-alike", Severity::note,
                                 "A character that only looks like the one meant is read as that "
                                 "one.",
                                 "ミ |\n", "三 |\n"};

inline constexpr Rule unknown_mark{"unknown-mark", Severity::error,
                                   "A brace after a sign holds one of the known marks.",
                                   "五{acent} |\n", "五{accent} |\n"};
inline constexpr Rule bad_mark_value{"bad-mark-value", Severity::error,
                                     "The value of a mark has the form the mark asks for.",
                                     "五{pre} |\n", "五{pre 六} |\n"};
inline constexpr Rule mark_on_hold{"mark-on-hold", Severity::error,
                                   "Marks stand on the sign, never on a hold.", "五 -{fermata} |\n",
                                   "五{fermata} - |\n"};
inline constexpr Rule mark_on_rest{"mark-on-rest", Severity::error,
                                   "A rest takes {fermata}, {breath} and {breath?} alone.",
                                   "五 ・{accent} |\n", "五{accent} ・ |\n"};
inline constexpr Rule free_mark{"free-mark", Severity::error,
                                "A mark stands directly after its sign, without a space.",
                                "五 {accent} |\n", "五{accent} |\n"};
inline constexpr Rule slur_place{"slur-place", Severity::error,
                                 "`~` stands directly after the sign of the note it slurs.",
                                 "五 -~ 六 |\n", "五~ - 六 |\n"};
inline constexpr Rule no_next_note{"no-next-note", Severity::error,
                                   "A slur or a slide leads to a next note.", "五 六~ |\n",
                                   "五~ 六 |\n"};

}  // namespace yubifu::notation::rule
