// Why a well-formed staff file is not read.
#pragma once

#include "base/diagnostic.h"
#include "musicxml/rule_examples.h"

namespace yubifu::musicxml::rule {

using base::Rule;
using base::Severity;

inline constexpr Rule no_measures{
    "no-measures", Severity::error, "A staff file must hold a part with at least one bar.",
    kOnePart<"">, kOneBar<"<note><rest/><duration>8</duration></note>">};

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
    kOneBar<"<note><unpitched/><duration>8</duration></note>">,
    kOneBar<"<note><pitch><step>D</step><octave>5</octave></pitch><duration>8</duration></note>">};

inline constexpr Rule staff_limits{
    "staff-limits", Severity::error,
    "A staff file holds at most 2000000 notes and 200000 bars, and no more than 1000000000 "
    "divisions a quarter.",
    kOneBar<"<attributes><divisions>1000000001</divisions></attributes>"
            "<note><rest/><duration>1</duration></note>">,
    kOneBar<"<note><rest/><duration>8</duration></note>">};

inline constexpr Rule staff_overflow{
    "staff-overflow", Severity::error,
    "The durations of a bar must add up to a fraction of 64 bits.",
    kOneBar<"<attributes><divisions>999999937</divisions></attributes>"
            "<note><rest/><duration>1</duration></note>"
            "<attributes><divisions>999999929</divisions></attributes>"
            "<note><rest/><duration>1</duration></note>"
            "<attributes><divisions>999999893</divisions></attributes>"
            "<note><rest/><duration>1</duration></note>">,
    kOneBar<"<note><rest/><duration>8</duration></note>">};

}  // namespace yubifu::musicxml::rule
