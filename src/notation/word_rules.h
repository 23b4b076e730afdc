// Rules about single words: signs, what stands directly after them, and marks.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::notation::rule {

using base::Rule;
using base::Severity;

// --- signs -----------------------------------------------------------------------------------

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

// --- marks -----------------------------------------------------------------------------------

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
