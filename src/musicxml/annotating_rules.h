// The rules about fingering that stands in a staff file.
#pragma once

#include "base/diagnostic.h"
#include "musicxml/rule_examples.h"

namespace yubifu::musicxml::rule {

inline constexpr base::Rule already_fingered{
    "already-fingered", base::Severity::error,
    "A staff file to be annotated must not have a fingering that something else wrote.",
    "a staff file that convert has written with fingering, given to annotate",
    "the same file, written with --fingering none"};

inline constexpr base::Rule encoding_not_kept{
    "encoding-not-kept", base::Severity::error,
    "A staff file to be annotated must be in an encoding that can be read and written back without "
    "a change.",
    "a staff file in ISO-2022-JP with an escape sequence that changes nothing",
    "the same file saved as UTF-8"};

inline constexpr base::Rule no_annotation{
    "no-annotation", base::Severity::note,
    "Only a file that annotate has written has an annotation to take out.",
    "annotate --remove of a file as a notation program wrote it",
    "annotate --remove of the same file after annotate"};

inline constexpr base::Rule not_a_fingering{
    "not-a-fingering", base::Severity::warning,
    "A text marked as fingering must be one: a sign, perhaps a half hole and a bend.",
    kOneBar<"<note><pitch><step>D</step><octave>5</octave></pitch><duration>8</duration>"
            "<lyric name=\"fingering\"><text>la la</text></lyric></note>">,
    kOneBar<"<note><pitch><step>D</step><octave>5</octave></pitch><duration>8</duration>"
            "<lyric name=\"fingering\"><text>二</text></lyric></note>">};

template <FixedText Octaves>
inline constexpr std::string_view kMoved = kText<
    "<score-partwise><identification><miscellaneous>"
    "<miscellaneous-field name=\"yubifu.octave\">",
    Octaves,
    "</miscellaneous-field></miscellaneous></identification>"
    "<part id=\"P1\"><measure number=\"1\"/></part></score-partwise>">;

inline constexpr base::Rule annotated_octave{
    "annotated-octave", base::Severity::note,
    "A part sounds as annotate has fingered it, perhaps an octave from where it is written.",
    kMoved<"P1 1">, kMoved<"P1 0">};

}  // namespace yubifu::musicxml::rule
