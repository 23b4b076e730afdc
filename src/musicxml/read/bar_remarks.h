// What the reader can remark about bars, what stands between notes, and text beside the music.
#pragma once

#include "base/message.h"
#include "musicxml/read/remarks.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml::remark {

using base::catalogued;

// Attributes.
inline constexpr RemarkKind unknown_meter{&rule::unknown_value, catalogued("meter cannot be read"),
                                          catalogued("meters cannot be read")};
inline constexpr RemarkKind joined_meter{&rule::left_out,
                                         catalogued("meter of several parts read as their sum"),
                                         catalogued("meters of several parts read as their sum")};
inline constexpr RemarkKind meter_in_bar{
    &rule::misplaced_sign, catalogued("meter inside a bar counts from the next bar on"),
    catalogued("meters inside a bar count from the next bar on")};
inline constexpr RemarkKind odd_key{&rule::left_out,
                                    catalogued("key signature of its own kind left out"),
                                    catalogued("key signatures of their own kind left out")};
inline constexpr RemarkKind many_signs{
    &rule::left_out, catalogued("key of more than seven signs read as the one that sounds like it"),
    catalogued("keys of more than seven signs read as those that sound like them")};
inline constexpr RemarkKind odd_mode{
    &rule::left_out, catalogued("mode of a key other than major and minor left out"),
    catalogued("modes of keys other than major and minor left out")};
inline constexpr RemarkKind unknown_transposition{&rule::unknown_value,
                                                  catalogued("transposition cannot be read"),
                                                  catalogued("transpositions cannot be read")};
inline constexpr RemarkKind octave_doubling{&rule::left_out,
                                            catalogued("doubling at the octave left out"),
                                            catalogued("doublings at the octave left out")};
inline constexpr RemarkKind octave_twice{
    &rule::octave_twice,
    catalogued("transposition by octaves stands beside an octave clef; both are read as "
               "they stand"),
    catalogued("transpositions by octaves stand beside octave clefs; both are read as they stand")};
inline constexpr RemarkKind slashes{&rule::left_out, catalogued("slash notation left out"),
                                    catalogued("slash notations left out")};
inline constexpr RemarkKind repeat_signs{&rule::left_out,
                                         catalogued("sign for a repeated bar or beat left out"),
                                         catalogued("signs for repeated bars or beats left out")};

// Lengths; the detail says what the bars last and what they should.
inline constexpr RemarkKind uneven_bar{&rule::uneven_bar, catalogued("bar does not fill its meter"),
                                       catalogued("bars do not fill their meter")};

// Directions; the detail is the element's name.
inline constexpr RemarkKind direction{&rule::left_out, catalogued("direction left out"),
                                      catalogued("directions left out")};
inline constexpr RemarkKind own_text_place{
    &rule::unknown_value, catalogued("text of our own stands where it says nothing"),
    catalogued("texts of our own stand where they say nothing")};
inline constexpr RemarkKind unknown_tempo{
    &rule::left_out, catalogued("metronome mark without a plain number left out"),
    catalogued("metronome marks without a plain number left out")};
inline constexpr RemarkKind unknown_own_text{&rule::unknown_value,
                                             catalogued("text of our own cannot be read"),
                                             catalogued("texts of our own cannot be read")};
inline constexpr RemarkKind jump_in_bar{&rule::misplaced_sign,
                                        catalogued("sign inside a bar moved to the bar's end"),
                                        catalogued("signs inside a bar moved to the bar's end")};
inline constexpr RemarkKind jump_in_words{
    &rule::jump_in_words, catalogued("jump that only words give is taken as one"),
    catalogued("jumps that only words give are taken as such"), Details::together};
inline constexpr RemarkKind target_in_bar{
    &rule::misplaced_sign, catalogued("sign inside a bar moved to the bar's start"),
    catalogued("signs inside a bar moved to the bar's start")};
inline constexpr RemarkKind section_in_bar{&rule::misplaced_sign,
                                           catalogued("section inside a bar read as text"),
                                           catalogued("sections inside a bar read as text")};

// Bars.
inline constexpr RemarkKind fermata_on_bar{&rule::left_out,
                                           catalogued("fermata on a bar line left out"),
                                           catalogued("fermatas on bar lines left out")};
inline constexpr RemarkKind unknown_ending{&rule::unknown_value,
                                           catalogued("ending without a number left out"),
                                           catalogued("endings without a number left out")};
inline constexpr RemarkKind ending_not_begun{
    &rule::unknown_value, catalogued("end of an ending that has not begun left out"),
    catalogued("ends of endings that have not begun left out")};
inline constexpr RemarkKind unknown_times{&rule::unknown_value,
                                          catalogued("repeat count cannot be read; two is taken"),
                                          catalogued("repeat counts cannot be read; two is taken")};
inline constexpr RemarkKind odd_repeat{&rule::unknown_value,
                                       catalogued("repeat without a direction or a bar left out"),
                                       catalogued("repeats without a direction or a bar left out")};
inline constexpr RemarkKind other_bar_style{&rule::left_out,
                                            catalogued("kind of bar line left out"),
                                            catalogued("kinds of bar lines left out")};
inline constexpr RemarkKind unknown_bar_style{&rule::unknown_value,
                                              catalogued("bar line is of no known kind"),
                                              catalogued("bar lines are of no known kind")};

// Elements.
inline constexpr RemarkKind chord_symbol{&rule::left_out, catalogued("chord symbol left out"),
                                         catalogued("chord symbols left out")};
inline constexpr RemarkKind figured_bass{&rule::left_out, catalogued("figured bass left out"),
                                         catalogued("figured basses left out")};
inline constexpr RemarkKind unknown_element{&rule::unknown_value,
                                            catalogued("unknown element left out"),
                                            catalogued("unknown elements left out")};

// Text beside the music.
inline constexpr RemarkKind other_field{
    &rule::detail_left_out, catalogued("miscellaneous field left out"),
    catalogued("miscellaneous fields left out"), Details::together};
inline constexpr RemarkKind other_creator{&rule::left_out, catalogued("creator left out"),
                                          catalogued("creators left out"), Details::together};
inline constexpr RemarkKind other_title{&rule::left_out, catalogued("number of the work left out"),
                                        catalogued("numbers of the work left out"),
                                        Details::together};
inline constexpr RemarkKind page_text{&rule::detail_left_out,
                                      catalogued("text on the page left out"),
                                      catalogued("texts on the page left out"), Details::together};
inline constexpr RemarkKind own_field{
    &rule::unknown_value, catalogued("field of our own cannot be read"),
    catalogued("fields of our own cannot be read"), Details::together};

}  // namespace yubifu::musicxml::remark
