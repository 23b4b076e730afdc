// The rules of writing a MIDI file and of practice music.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::midi::rule {

inline constexpr base::Rule missing_pitch{
    "missing-pitch", base::Severity::error, "Every note must have a pitch before it can be played.",
    "a score whose fingering was never looked up in a flute's table", "the same score resolved"};
inline constexpr base::Rule tick_overflow{
    "tick-overflow", base::Severity::error, "Every time of a score must be a fraction of 64 bits.",
    "a grace note to a note of 1/9000000000000000000", "a grace note to a note of 1/16"};
inline constexpr base::Rule music_too_long{
    "music-too-long", base::Severity::error, "The music must not last more than 2147483647 ticks.",
    "a bar of 1000000 quarter notes at 32767 ticks each", "the same bar at 480 ticks each"};
inline constexpr base::Rule bars_not_played{
    "bars-not-played", base::Severity::error, "Bars to be practised must be bars that are played.",
    "bars 5-8 of a tune of four bars", "bars 1-4 of that tune"};
inline constexpr base::Rule midi_option{"midi-option", base::Severity::error,
                                        "Options of the MIDI export must be in their range.",
                                        "program 129", "program 74"};
inline constexpr base::Rule tick_rounding{
    "tick-rounding", base::Severity::warning,
    "The ticks a quarter note gets should hold every onset and end exactly.",
    "a triplet at 100 ticks a quarter note", "a triplet at 480 ticks a quarter note"};
inline constexpr base::Rule key_range{"key-range", base::Severity::warning,
                                      "A note should be one of the MIDI keys 0 to 127.",
                                      "the note C10", "the note C6"};
inline constexpr base::Rule tempo_range{"tempo-range", base::Severity::warning,
                                        "A tempo should not be under 3.58 quarter notes a minute.",
                                        "tempo 2", "tempo 4"};
inline constexpr base::Rule mark_left_out{
    "mark-left-out", base::Severity::note,
    "A MIDI file holds what sounds; marks of the player's technique are left out.",
    "a note with a trill", "the note without it"};
inline constexpr base::Rule verse_left_out{
    "verse-left-out", base::Severity::note,
    "The lyrics of a MIDI file are one text: fingering, song or shoga.",
    "a song exported with its fingering", "the same song exported with its text"};
inline constexpr base::Rule comment_left_out{"comment-left-out", base::Severity::note,
                                             "A MIDI file has no place for comments.",
                                             "a score with a comment", "the score without it"};
inline constexpr base::Rule no_click{"no-click", base::Severity::note,
                                     "A click needs a meter to count.",
                                     "a count-in before free time", "a count-in before 4/4"};

}  // namespace yubifu::midi::rule
