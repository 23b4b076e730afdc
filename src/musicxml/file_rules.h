// The rules about files as such: their encoding, their XML, their container; why a well-formed
// staff file is not read; and the fingering that stands in one.
#pragma once

#include "base/diagnostic.h"
#include "musicxml/rule_examples.h"

namespace yubifu::musicxml::rule {

using base::Rule;
using base::Severity;

inline constexpr Rule unreadable_text{
    "unreadable-text", Severity::error,
    "The bytes must fit an encoding: UTF-8, UTF-16, or another one that the file declares.",
    "a title with the single byte E9 in a file that declares no encoding",
    "the same file with encoding=\"ISO-8859-1\" in its XML declaration"};
inline constexpr Rule declared_encoding{
    "declared-encoding", Severity::warning,
    "The XML declaration should name the encoding that the file has.",
    "a title in Japanese, saved as UTF-8, in a file that declares ISO-8859-1",
    "the same file with encoding=\"UTF-8\" in its XML declaration"};
inline constexpr Rule xml_syntax{"xml-syntax", Severity::error,
                                 "The text must be well-formed XML with one root element.",
                                 kOneBar<"<note><rest/><duration>2</duration></rest>">,
                                 kOneBar<"<note><rest/><duration>2</duration></note>">};
inline constexpr Rule xml_limits{
    "xml-limits", Severity::error,
    "XML that could exhaust a reader is refused: entity declarations, elements nested more than "
    "200 deep, more than 200 attributes on one element.",
    kText<"<?xml version=\"1.0\"?>\n<!DOCTYPE score-partwise [<!ENTITY a \"b\">]>\n"
          "<score-partwise/>\n">,
    kOneBar<"<note><rest/><duration>2</duration></note>">};
inline constexpr Rule broken_container{
    "broken-container", Severity::error,
    "A compressed file must be a whole zip archive with one score to read.",
    "a .mxl file cut in half", "the whole .mxl file"};
inline constexpr Rule unsafe_container{
    "unsafe-container", Severity::error,
    "A compressed file must hold at most 1000 files of together 256 MiB, with names that stay "
    "inside.",
    "a .mxl file with an entry named ../score.musicxml",
    "a .mxl file with an entry named score.musicxml"};
inline constexpr Rule container_without_rootfile{
    "container-without-rootfile", Severity::warning,
    "A compressed file should say in META-INF/container.xml where its score is.",
    "a .mxl file with nothing but score.musicxml",
    "a .mxl file with META-INF/container.xml and score.musicxml"};
inline constexpr Rule not_a_staff_file{"not-a-staff-file", Severity::error,
                                       "The root element must be score-partwise or score-timewise.",
                                       "<opus/>",
                                       kOneBar<"<note><rest/><duration>2</duration></note>">};
inline constexpr Rule no_measures{"no-measures", Severity::error,
                                  "A staff file must hold a part with at least one bar.",
                                  kOnePart<"">, kBarOfRest};
inline constexpr Rule unknown_part{
    "unknown-part", Severity::error,
    "The part asked for must be in the file, by its id, its name or its number from 1.",
    "a file with one part, Flute, read with the part Drum",
    "a file with one part, Flute, read with the part Flute"};
inline constexpr Rule unknown_voice{
    "unknown-voice", Severity::error,
    "The voice and the staff asked for must have notes or rests in the part.",
    "a file whose only voice is 1, read with voice 2",
    "a file whose only voice is 1, read with voice 1"};
inline constexpr Rule unpitched_part{
    "unpitched-part", Severity::error,
    "The part must have notes with a pitch: percussion cannot be fingered.",
    kOneBar<"<note><unpitched/><duration>8</duration></note>">, kOneBar<kD, "8</duration></note>">};
inline constexpr Rule staff_limits{
    "staff-limits", Severity::error,
    "A staff file holds at most 2000000 notes and 200000 bars, and no more than 1000000000 "
    "divisions a quarter.",
    kOneBar<"<attributes><divisions>1000000001</divisions></attributes>"
            "<note><rest/><duration>1</duration></note>">,
    kBarOfRest};
inline constexpr Rule staff_overflow{
    "staff-overflow", Severity::error,
    "The durations of a bar must add up to a fraction of 64 bits.",
    kOneBar<"<attributes><divisions>999999937</divisions></attributes>"
            "<note><rest/><duration>1</duration></note>"
            "<attributes><divisions>999999929</divisions></attributes>"
            "<note><rest/><duration>1</duration></note>"
            "<attributes><divisions>999999893</divisions></attributes>"
            "<note><rest/><duration>1</duration></note>">,
    kBarOfRest};
inline constexpr Rule already_fingered{
    "already-fingered", Severity::error,
    "A staff file to be annotated must not have a fingering that something else wrote.",
    "a staff file that convert has written with fingering, given to annotate",
    "the same file, written with --fingering none"};
inline constexpr Rule encoding_not_kept{
    "encoding-not-kept", Severity::error,
    "A staff file to be annotated must be in an encoding that can be read and written back without "
    "a change.",
    "a staff file in ISO-2022-JP with an escape sequence that changes nothing",
    "the same file saved as UTF-8"};
inline constexpr Rule no_annotation{
    "no-annotation", Severity::note,
    "Only a file that annotate has written has an annotation to take out.",
    "annotate --remove of a file as a notation program wrote it",
    "annotate --remove of the same file after annotate"};
inline constexpr Rule not_a_fingering{
    "not-a-fingering", Severity::warning,
    "A text marked as fingering must be one: a sign, perhaps a half hole and a bend.",
    kOneBar<kD, "8</duration><lyric name=\"fingering\"><text>la la</text></lyric></note>">,
    kOneBar<kD, "8</duration><lyric name=\"fingering\"><text>二</text></lyric></note>">};

template <FixedText Octaves>
inline constexpr std::string_view kMoved = kText<
    "<score-partwise><identification><miscellaneous>"
    "<miscellaneous-field name=\"yubifu.octave\">",
    Octaves,
    "</miscellaneous-field></miscellaneous></identification>"
    "<part id=\"P1\"><measure number=\"1\"/></part></score-partwise>">;
inline constexpr Rule annotated_octave{
    "annotated-octave", Severity::note,
    "A part sounds as annotate has fingered it, perhaps an octave from where it is written.",
    kMoved<"P1 1">, kMoved<"P1 0">};

}  // namespace yubifu::musicxml::rule
