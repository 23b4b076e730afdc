// Small resolved scores for the writer's tests, and their documents told in few words.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "model/score.h"
#include "musicxml/write/writer.h"

namespace yubifu::support {

/// Notes and rests one after the other through bars of one meter, as many as they fill: lengths
/// in quarters, "1 1/2 r1/2 3"; `r` is a rest, a length may reach over bar lines. All notes are
/// the sign 三 of the flute of size 8, E4 in C.
model::Score staff_score(const model::Meter& meter, std::string_view lengths);

/// A fingered tone with its sound on the flute of size 8.
model::Tone tone_of(std::string_view printed_fingering);

/// Quarter notes of these fingerings in 4/4, in words: "三 三メ 0".
model::Score fingered_score(std::string_view fingerings);

/// The document; a test fails when there is none.
std::string document_of(const model::Score& score, const musicxml::MusicXmlWriteOptions& options =
                                                       musicxml::MusicXmlWriteOptions());

/// The document without line ends and indentation.
std::string compact(const model::Score& score, const musicxml::MusicXmlWriteOptions& options =
                                                   musicxml::MusicXmlWriteOptions());

/// How often a text stands in another.
std::size_t count_of(std::string_view text, std::string_view what);

/// The notes of each bar as "E4:quarter. ~" and rests as "r:half": letter and octave, type, a
/// point a dot, then the product of its tuplets as "3/2", "<" and ">" for each tuplet that begins
/// or ends, and "~" for a tie to the next note. A rest of the whole bar is "r:bar".
std::vector<std::string> written_bars(const std::string& document);

/// The pitches of all notes as "Eb4", with the printed accidental behind it: "Eb4(flat)".
std::vector<std::string> written_pitches(const std::string& document);

/// The beams of each bar: a word a note, of the beams from the first on: "(" begin, "-" continue,
/// ")" end, ">" and "<" hooks; "." for a note without.
std::vector<std::string> written_beams(const std::string& document);

}  // namespace yubifu::support
