// What is told about the music of a staff file that is read.
#pragma once

#include "base/diagnostic.h"
#include "musicxml/rule_examples.h"

namespace yubifu::musicxml::rule {

using base::Rule;
using base::Severity;

inline constexpr Rule left_out{
    "left-out", Severity::warning,
    "What the score has no place for is left out and told with its bars.",
    kOneBar<"<harmony><root><root-step>D</root-step></root><kind>major</kind></harmony>"
            "<note><rest/><duration>8</duration></note>">,
    kBarOfRest};
inline constexpr Rule detail_left_out{
    "detail-left-out", Severity::note,
    "Text beside the music that the score has no place for is left out and told.",
    kText<"<score-partwise><identification><miscellaneous>"
          "<miscellaneous-field name=\"mood\">calm</miscellaneous-field>"
          "</miscellaneous></identification><part id=\"P1\"><measure number=\"1\"/></part>"
          "</score-partwise>">,
    kBarOfRest};
inline constexpr Rule tie_without_partner{
    "tie-without-partner", Severity::warning,
    "A tie must lead from a note to the next one of the same pitch.",
    kOneBar<kD, "4</duration><tie type=\"start\"/></note>", kE, "4</duration></note>">,
    kOneBar<kD, "4</duration><tie type=\"start\"/></note>", kD,
            "4</duration><tie type=\"stop\"/></note>">};
inline constexpr Rule odd_duration{
    "odd-duration", Severity::warning,
    "Every note needs a duration above zero, in divisions that the file sets.",
    kOneBar<"<note><rest/><duration>0</duration><type>whole</type></note>">,
    kOneBar<"<note><rest/><duration>8</duration><type>whole</type></note>">};
inline constexpr Rule odd_position{
    "odd-position", Severity::warning,
    "A backup must stay inside its bar, and a chord note follow another note.",
    kOneBar<"<note><rest/><duration>4</duration></note><backup><duration>8</duration></backup>">,
    kOneBar<"<note><rest/><duration>4</duration></note><backup><duration>4</duration></backup>">};
inline constexpr Rule overlapping_notes{
    "overlapping-notes", Severity::warning, "The notes of one voice must not overlap.",
    kOneBar<kD, "4</duration></note><backup><duration>2</duration></backup>", kE,
            "2</duration></note>">,
    kOneBar<kD, "4</duration></note>", kE, "2</duration></note>">};
inline constexpr Rule uneven_bar{
    "uneven-bar", Severity::warning,
    "A bar must last as long as its meter says, unless the file marks it as one that does not.",
    kOneBar<"<note><rest/><duration>10</duration></note>">, kBarOfRest};
inline constexpr Rule strokes_differ{
    "strokes-differ", Severity::warning,
    "The strokes behind a fingering must count the held beats of its note.",
    kOneBar<kD, "8</duration><lyric name=\"fingering\"><text>二／</text></lyric></note>">,
    kOneBar<kD, "8</duration><lyric name=\"fingering\"><text>二＿｜＿</text></lyric></note>">};
inline constexpr Rule octave_twice{
    "octave-twice", Severity::warning,
    "An octave clef together with an octave in the transposition is often meant once.",
    kOneBar<"<attributes><clef><sign>G</sign><line>2</line>"
            "<clef-octave-change>1</clef-octave-change></clef><transpose><chromatic>0</chromatic>"
            "<octave-change>1</octave-change></transpose></attributes>"
            "<note><rest/><duration>8</duration></note>">,
    kOneBar<"<attributes><clef><sign>G</sign><line>2</line></clef><transpose>"
            "<chromatic>0</chromatic><octave-change>1</octave-change></transpose></attributes>"
            "<note><rest/><duration>8</duration></note>">};
inline constexpr Rule silent_voice{
    "silent-voice", Severity::warning,
    "Where the voice read is silent, no other voice of its part should play.",
    kOneBar<kD,
            "8</duration><voice>1</voice><staff>1</staff></note><backup><duration>8</duration></"
            "backup><note><pitch><step>D</step><octave>4</octave></pitch><duration>8</"
            "duration><voice>2</voice><staff>2</staff></note></measure><measure "
            "number=\"2\"><note><pitch><step>E</step><octave>4</octave></pitch><duration>8</"
            "duration><voice>2</voice><staff>2</staff></note>">,
    kOneBar<kD,
            "8</duration><voice>1</voice><staff>1</staff></note></measure><measure number=\"2\">",
            kE, "8</duration><voice>1</voice><staff>1</staff></note>">};
inline constexpr Rule voice_followed{
    "voice-followed", Severity::note,
    "A line that goes on in another voice of its part is read there.",
    kOneBar<kD, "8</duration><voice>1</voice></note></measure><measure number=\"2\">", kE,
            "8</duration><voice>2</voice></note>">,
    kOneBar<kD, "8</duration><voice>1</voice></note></measure><measure number=\"2\">", kE,
            "8</duration><voice>1</voice></note>">};
inline constexpr Rule unknown_value{
    "unknown-value", Severity::warning,
    "Elements and values must be those of MusicXML; others are told and left out.",
    kOneBar<"<note><pitch><step>H</step><octave>4</octave></pitch><duration>4</duration></note>",
            kD, "4</duration></note>">,
    kOneBar<"<note><pitch><step>B</step><octave>4</octave></pitch><duration>4</duration></note>",
            kD, "4</duration></note>">};
inline constexpr Rule misplaced_sign{
    "misplaced-sign", Severity::warning,
    "Signs that part the music belong at a bar line; inside a bar they are moved to one.",
    kOneBar<"<note><rest/><duration>4</duration></note>"
            "<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>"
            "<note><rest/><duration>4</duration></note>">,
    kBarOfRest};
inline constexpr Rule voice_chosen{
    "voice-chosen", Severity::note,
    "Of several parts and voices the one that looks like the melody is read.",
    "a file with two voices, read without saying which",
    "a file with two voices, read with voice 1"};
inline constexpr Rule jump_in_words{
    "jump-in-words", Severity::note,
    "A jump should also say how it is played; one that only words give is told.",
    kOneBar<"<note><rest/><duration>8</duration></note>"
            "<direction><direction-type><words>D.C.</words></direction-type></direction>">,
    kOneBar<"<note><rest/><duration>8</duration></note>"
            "<direction><direction-type><words>D.C.</words></direction-type>"
            "<sound dacapo=\"yes\"/></direction>">};
inline constexpr Rule no_meter{
    "no-meter", Severity::note, "A file without a meter is read in free time.",
    kOnePart<"<measure number=\"1\"><attributes><divisions>1</divisions></attributes>"
             "<note><rest/><duration>4</duration></note></measure>">,
    kBarOfRest};

}  // namespace yubifu::musicxml::rule
