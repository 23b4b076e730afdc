// What the reader can remark about bars and what stands between notes: attributes, directions, bar
// lines, other elements; and about the text beside the music.
#pragma once

#include "musicxml/remarks.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml::remark {

// Attributes.
inline constexpr RemarkKind unknown_meter{&rule::unknown_value, "meter cannot be read",
                                          "meters cannot be read"};
inline constexpr RemarkKind joined_meter{&rule::left_out,
                                         "meter of several parts read as their sum",
                                         "meters of several parts read as their sum"};
inline constexpr RemarkKind meter_in_bar{&rule::misplaced_sign,
                                         "meter inside a bar counts from the next bar on",
                                         "meters inside a bar count from the next bar on"};
inline constexpr RemarkKind odd_key{&rule::left_out, "key signature of its own kind left out",
                                    "key signatures of their own kind left out"};
inline constexpr RemarkKind many_signs{
    &rule::left_out, "key of more than seven signs read as the one that sounds like it",
    "keys of more than seven signs read as those that sound like them"};
inline constexpr RemarkKind odd_mode{&rule::left_out,
                                     "mode of a key other than major and minor left out",
                                     "modes of keys other than major and minor left out"};
inline constexpr RemarkKind unknown_transposition{
    &rule::unknown_value, "transposition cannot be read", "transpositions cannot be read"};
inline constexpr RemarkKind octave_doubling{&rule::left_out, "doubling at the octave left out",
                                            "doublings at the octave left out"};
inline constexpr RemarkKind octave_twice{
    &rule::octave_twice,
    "transposition by octaves stands beside an octave clef; both are read as "
    "they stand",
    "transpositions by octaves stand beside octave clefs; both are read as they stand"};
inline constexpr RemarkKind slashes{&rule::left_out, "slash notation left out",
                                    "slash notations left out"};

// Lengths; the detail says what the bars last and what they should.
inline constexpr RemarkKind uneven_bar{&rule::uneven_bar, "bar does not fill its meter",
                                       "bars do not fill their meter"};

// Directions; the detail is the element's name.
inline constexpr RemarkKind direction{&rule::left_out, "direction left out", "directions left out"};
inline constexpr RemarkKind own_text_place{&rule::unknown_value,
                                           "text of our own stands where it says nothing",
                                           "texts of our own stand where they say nothing"};
inline constexpr RemarkKind unknown_tempo{&rule::left_out,
                                          "metronome mark without a plain number left out",
                                          "metronome marks without a plain number left out"};
inline constexpr RemarkKind unknown_own_text{&rule::unknown_value, "text of our own cannot be read",
                                             "texts of our own cannot be read"};
inline constexpr RemarkKind jump_in_bar{&rule::misplaced_sign,
                                        "sign inside a bar moved to the bar's end",
                                        "signs inside a bar moved to the bar's end"};
inline constexpr RemarkKind target_in_bar{&rule::misplaced_sign,
                                          "sign inside a bar moved to the bar's start",
                                          "signs inside a bar moved to the bar's start"};
inline constexpr RemarkKind section_in_bar{&rule::misplaced_sign,
                                           "section inside a bar read as text",
                                           "sections inside a bar read as text"};

// Bars.
inline constexpr RemarkKind fermata_on_bar{&rule::left_out, "fermata on a bar line left out",
                                           "fermatas on bar lines left out"};
inline constexpr RemarkKind unknown_ending{&rule::unknown_value, "ending without a number left out",
                                           "endings without a number left out"};
inline constexpr RemarkKind unknown_times{&rule::unknown_value,
                                          "repeat count cannot be read; two is taken",
                                          "repeat counts cannot be read; two is taken"};
inline constexpr RemarkKind odd_repeat{&rule::unknown_value,
                                       "repeat without a direction or a bar left out",
                                       "repeats without a direction or a bar left out"};
inline constexpr RemarkKind other_bar_style{&rule::left_out, "kind of bar line left out",
                                            "kinds of bar lines left out"};
inline constexpr RemarkKind unknown_bar_style{&rule::unknown_value, "bar line is of no known kind",
                                              "bar lines are of no known kind"};

// Elements.
inline constexpr RemarkKind chord_symbol{&rule::left_out, "chord symbol left out",
                                         "chord symbols left out"};
inline constexpr RemarkKind figured_bass{&rule::left_out, "figured bass left out",
                                         "figured basses left out"};
inline constexpr RemarkKind unknown_element{&rule::unknown_value, "unknown element left out",
                                            "unknown elements left out"};

// Text beside the music.
inline constexpr RemarkKind other_field{&rule::detail_left_out, "miscellaneous field left out",
                                        "miscellaneous fields left out", Details::together};
inline constexpr RemarkKind other_creator{&rule::left_out, "creator left out", "creators left out",
                                          Details::together};
inline constexpr RemarkKind other_title{&rule::left_out, "number of the work left out",
                                        "numbers of the work left out", Details::together};
inline constexpr RemarkKind page_text{&rule::detail_left_out, "text on the page left out",
                                      "texts on the page left out", Details::together};
inline constexpr RemarkKind own_field{&rule::unknown_value, "field of our own cannot be read",
                                      "fields of our own cannot be read", Details::together};

}  // namespace yubifu::musicxml::remark
