// What the reader can remark about notes and what stands on them: lengths, ties, marks, song text.
#pragma once

#include "base/message.h"
#include "musicxml/read/remarks.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml::remark {

using base::catalogued;

// Durations and positions.
inline constexpr RemarkKind no_divisions{
    &rule::odd_duration, catalogued("duration comes before any divisions, which are guessed"),
    catalogued("durations come before any divisions, which are guessed")};
inline constexpr RemarkKind odd_divisions{
    &rule::odd_duration, catalogued("value of divisions cannot be used"),
    catalogued("values of divisions cannot be used"), Details::together};
inline constexpr RemarkKind length_by_type{
    &rule::odd_duration, catalogued("note without a usable duration lasts what its type says"),
    catalogued("notes without a usable duration last what their types say"), Details::together};
inline constexpr RemarkKind no_length{
    &rule::odd_duration, catalogued("note without a usable duration or type is left out"),
    catalogued("notes without a usable duration or type are left out"), Details::together};
inline constexpr RemarkKind unreadable_move{
    &rule::odd_position, catalogued("backup or forward has no usable duration"),
    catalogued("backups or forwards have no usable duration"), Details::together};
inline constexpr RemarkKind bare_move{
    &rule::odd_position, catalogued("backup or forward has its number without a duration element"),
    catalogued("backups or forwards have their number without a duration "
               "element")};
inline constexpr RemarkKind backup_too_far{&rule::odd_position,
                                           catalogued("backup leads to before its bar"),
                                           catalogued("backups lead to before their bars")};
inline constexpr RemarkKind chord_without_note{&rule::odd_position,
                                               catalogued("chord note follows no note"),
                                               catalogued("chord notes follow no note")};

// Notes.
inline constexpr RemarkKind chord_note{&rule::left_out, catalogued("chord note left out"),
                                       catalogued("chord notes left out")};
inline constexpr RemarkKind cue_note{&rule::left_out, catalogued("cue note left out"),
                                     catalogued("cue notes left out")};
inline constexpr RemarkKind unpitched_note{&rule::left_out, catalogued("unpitched note left out"),
                                           catalogued("unpitched notes left out")};
inline constexpr RemarkKind unreadable_note{&rule::unknown_value,
                                            catalogued("note without a readable pitch left out"),
                                            catalogued("notes without a readable pitch left out")};
inline constexpr RemarkKind grace_without_note{
    &rule::left_out, catalogued("grace note without a main note left out"),
    catalogued("grace notes without a main note left out")};
inline constexpr RemarkKind overlap{
    &rule::overlapping_notes, catalogued("note cut short where the next one of its voice begins"),
    catalogued("notes cut short where the next ones of their voice begin")};
inline constexpr RemarkKind broken_tie{
    &rule::tie_without_partner,
    catalogued("tie leads to no note of its pitch; both notes are struck"),
    catalogued("ties lead to no note of their pitch; the notes are struck")};
inline constexpr RemarkKind tie_to_lower{
    &rule::tie_without_partner,
    catalogued("tie with a lower note of a chord is left out with that note"),
    catalogued("ties with lower notes of chords are left out with those notes")};
inline constexpr RemarkKind tie_from_nowhere{
    &rule::tie_without_partner,
    catalogued("tie ends on a note without having begun; the note is struck"),
    catalogued("ties end on notes without having begun; the notes are struck")};
inline constexpr RemarkKind sometimes_played{
    &rule::left_out, catalogued("note for only some of the repetitions read for all"),
    catalogued("notes for only some of the repetitions read for all")};
inline constexpr RemarkKind passage{
    &rule::voice_followed, catalogued("bar read from another voice, where the line goes on"),
    catalogued("bars read from another voice, where the line goes on"), Details::together};
inline constexpr RemarkKind silence{&rule::silent_voice,
                                    catalogued("bar has notes in other voices only"),
                                    catalogued("bars have notes in other voices only")};

// Notations, ornaments and other things on notes; the detail is the element's name.
inline constexpr RemarkKind notation{&rule::left_out, catalogued("mark on a note left out"),
                                     catalogued("marks on notes left out")};
inline constexpr RemarkKind unclosed_slur{&rule::left_out,
                                          catalogued("slur without an end left out"),
                                          catalogued("slurs without an end left out")};
inline constexpr RemarkKind slide_to_nothing{&rule::left_out,
                                             catalogued("slide without a second note left out"),
                                             catalogued("slides without a second note left out")};
inline constexpr RemarkKind mark_on_grace{&rule::left_out,
                                          catalogued("mark on a grace note left out"),
                                          catalogued("marks on grace notes left out")};
inline constexpr RemarkKind mark_on_rest{&rule::left_out, catalogued("mark on a rest left out"),
                                         catalogued("marks on rests left out")};

// Text.
inline constexpr RemarkKind text_on_grace{&rule::left_out,
                                          catalogued("syllable on a grace note left out"),
                                          catalogued("syllables on grace notes left out")};
inline constexpr RemarkKind text_on_rest{&rule::left_out, catalogued("syllable on a rest left out"),
                                         catalogued("syllables on rests left out")};
inline constexpr RemarkKind text_on_tie{&rule::left_out,
                                        catalogued("syllable on a held note left out"),
                                        catalogued("syllables on held notes left out")};
inline constexpr RemarkKind text_twice{
    &rule::left_out, catalogued("second syllable of a verse on one note left out"),
    catalogued("second syllables of a verse on one note left out")};
inline constexpr RemarkKind too_many_verses{
    &rule::left_out, catalogued("syllable of a verse past the 99th left out"),
    catalogued("syllables of verses past the 99th left out")};
inline constexpr RemarkKind wordless_text{&rule::left_out,
                                          catalogued("humming or laughing sign left out"),
                                          catalogued("humming or laughing signs left out")};
inline constexpr RemarkKind unknown_syllabic{
    &rule::unknown_value, catalogued("syllable of no known kind read as a word"),
    catalogued("syllables of no known kind read as words")};
inline constexpr RemarkKind other_strokes{
    &rule::strokes_differ,
    catalogued("fingering has strokes that do not count the held beats of its note"),
    catalogued("fingerings have strokes that do not count the held beats of their notes")};
inline constexpr RemarkKind bad_fingering{
    &rule::not_a_fingering, catalogued("text marked as fingering is none and left out"),
    catalogued("texts marked as fingering are none and left out")};

}  // namespace yubifu::musicxml::remark
