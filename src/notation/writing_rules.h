// Rules that the writer of fingering text reports: what a score holds and the text cannot say.
#pragma once

#include "base/diagnostic.h"

namespace yubifu::notation::rule {

using base::Rule;
using base::Severity;

inline constexpr Rule bar_too_fine{
    "bar-too-fine", Severity::error,
    "The starts inside one word divide it into at most 10,000 parts, and a bar holds at most "
    "500,000 words.",
    "a beat with notes after 1/103 and after 1/101 of it",
    "the same beat with notes after 1/100 and after 2/100 of it"};
inline constexpr Rule unfingered_note{"unfingered-note", Severity::error,
                                      "Each note has a fingering, or is a gap with its pitch.",
                                      "a melody from a staff that no flute was chosen for",
                                      "the same melody with fingers for a flute"};
inline constexpr Rule unwritable_sign{
    "unwritable-sign", Severity::error,
    "A sign of a flute's own is one letter or digit that the text does not use otherwise.",
    "a score whose flute calls a fingering `(`", "a score whose flute calls it 甲"};
inline constexpr Rule unwritable_header{
    "unwritable-header", Severity::warning,
    "The key of a further header field is one word, unlike all other keys, and stands once.",
    "a field whose key is `two words`", "a field whose key is `two-words`"};
inline constexpr Rule zero_is_taken{
    "zero-is-taken", Severity::warning,
    "In a score whose 0 is the tube tone no note is the cross-fingering 0.",
    "a score with `zero` = tube and a cross-fingered 0", "the same score with `zero` = cross"};
inline constexpr Rule held_over_flute{
    "held-over-flute", Severity::warning,
    "A note ends where the flute changes; one held over the change is struck anew.",
    "a note tied over a bar line at which another flute is taken up",
    "the same note ended at the bar line"};
inline constexpr Rule idle_repeat{
    "idle-repeat", Severity::warning,
    "A repeat ends before the next one begins; a start without an end of its own is left out.",
    "a score that begins a repeat in bars 1 and 3 and ends one in bar 4",
    "the same score with an end in bar 2"};
inline constexpr Rule undone_direction{
    "undone-direction", Severity::note,
    "One place has one tempo, key, beat and flute; of two the last is kept.",
    "a score with tempos of 60 and 90 at one place", "the same score with the second tempo only"};
inline constexpr Rule carried_nothing{
    "carried-nothing", Severity::note, "A syllable that is carried on stands on an earlier note.",
    "a verse that begins with a carried syllable", "a verse that begins with a syllable"};
inline constexpr Rule text_on_one_line{"text-on-one-line", Severity::note,
                                       "A line end inside a text becomes a space.",
                                       "a title of two lines", "a title of one line"};

}  // namespace yubifu::notation::rule
