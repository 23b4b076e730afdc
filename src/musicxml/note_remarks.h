// What the reader can remark about notes and what stands on them: lengths, ties, marks, song text.
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
inline constexpr RemarkKind unknown_syllabic{&rule::unknown_value,
                                             "syllable of no known kind read as a word",
                                             "syllables of no known kind read as words"};
inline constexpr RemarkKind other_strokes{
    &rule::strokes_differ, "fingering has strokes that do not count the held beats of its note",
    "fingerings have strokes that do not count the held beats of their notes"};
inline constexpr RemarkKind bad_fingering{&rule::not_a_fingering,
                                          "text marked as fingering is none and left out",
                                          "texts marked as fingering are none and left out"};

}  // namespace yubifu::musicxml::remark
