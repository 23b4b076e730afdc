// Everything the reader can remark about places in the music, in one list.
#pragma once

#include "musicxml/remarks.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml::remark {

// Durations and positions.
inline constexpr RemarkKind no_divisions{&rule::odd_duration,
                                         "duration comes before any divisions, which are guessed",
                                         "durations come before any divisions, which are guessed"};
inline constexpr RemarkKind odd_divisions{&rule::odd_duration, "value of divisions cannot be used",
                                          "values of divisions cannot be used"};
inline constexpr RemarkKind length_by_type{
    &rule::odd_duration, "note without a usable duration lasts what its type says",
    "notes without a usable duration last what their types say"};
inline constexpr RemarkKind no_length{&rule::odd_duration,
                                      "note without duration and type is left out",
                                      "notes without duration and type are left out"};
inline constexpr RemarkKind unreadable_move{&rule::odd_position,
                                            "backup or forward has no usable duration",
                                            "backups or forwards have no usable duration"};
inline constexpr RemarkKind bare_move{&rule::odd_position,
                                      "backup or forward has its number without a duration element",
                                      "backups or forwards have their number without a duration "
                                      "element"};
inline constexpr RemarkKind backup_too_far{&rule::odd_position,
                                           "backup leads to before its measure",
                                           "backups lead to before their measures"};
inline constexpr RemarkKind chord_without_note{&rule::odd_position, "chord note follows no note",
                                               "chord notes follow no note"};

// Notes.
inline constexpr RemarkKind chord_note{&rule::left_out, "chord note left out",
                                       "chord notes left out"};
inline constexpr RemarkKind cue_note{&rule::left_out, "cue note left out", "cue notes left out"};
inline constexpr RemarkKind unpitched_note{&rule::left_out, "unpitched note left out",
                                           "unpitched notes left out"};
inline constexpr RemarkKind unreadable_note{&rule::unknown_value,
                                            "note without a readable pitch left out",
                                            "notes without a readable pitch left out"};
inline constexpr RemarkKind grace_without_note{&rule::left_out,
                                               "grace note without a main note left out",
                                               "grace notes without a main note left out"};
inline constexpr RemarkKind overlap{&rule::overlapping_notes,
                                    "note cut short where the next one of its voice begins",
                                    "notes cut short where the next ones of their voice begin"};
inline constexpr RemarkKind broken_tie{&rule::tie_without_partner,
                                       "tie leads to no note of its pitch; both notes are struck",
                                       "ties lead to no note of their pitch; the notes are struck"};
inline constexpr RemarkKind tie_from_nowhere{
    &rule::tie_without_partner, "tie ends on a note without having begun; the note is struck",
    "ties end on notes without having begun; the notes are struck"};
inline constexpr RemarkKind sometimes_played{&rule::left_out,
                                             "note for only some of the repetitions read for all",
                                             "notes for only some of the repetitions read for all"};
inline constexpr RemarkKind silence{&rule::silent_voice, "bar has notes in other voices only",
                                    "bars have notes in other voices only"};

// Notations, ornaments and other things on notes; the detail is the element's name.
inline constexpr RemarkKind notation{&rule::left_out, "mark on a note left out",
                                     "marks on notes left out"};
inline constexpr RemarkKind unclosed_slur{&rule::left_out, "slur without an end left out",
                                          "slurs without an end left out"};
inline constexpr RemarkKind slide_to_nothing{&rule::left_out,
                                             "slide without a second note left out",
                                             "slides without a second note left out"};
inline constexpr RemarkKind mark_on_grace{&rule::left_out, "mark on a grace note left out",
                                          "marks on grace notes left out"};
inline constexpr RemarkKind mark_on_rest{&rule::left_out, "mark on a rest left out",
                                         "marks on rests left out"};

// Text.
inline constexpr RemarkKind text_on_grace{&rule::left_out, "syllable on a grace note left out",
                                          "syllables on grace notes left out"};
inline constexpr RemarkKind text_on_rest{&rule::left_out, "syllable on a rest left out",
                                         "syllables on rests left out"};
inline constexpr RemarkKind text_on_tie{&rule::left_out, "syllable on a held note left out",
                                        "syllables on held notes left out"};
inline constexpr RemarkKind text_twice{&rule::left_out,
                                       "second syllable of a verse on one note left out",
                                       "second syllables of a verse on one note left out"};
inline constexpr RemarkKind too_many_verses{&rule::left_out,
                                            "syllable of a verse past the 99th left out",
                                            "syllables of verses past the 99th left out"};
inline constexpr RemarkKind wordless_text{&rule::left_out, "humming or laughing sign left out",
                                          "humming or laughing signs left out"};
inline constexpr RemarkKind bad_fingering{&rule::not_a_fingering,
                                          "text marked as fingering is none and left out",
                                          "texts marked as fingering are none and left out"};

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
