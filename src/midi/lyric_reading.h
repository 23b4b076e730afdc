// The words that a file sings.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "midi/findings.h"
#include "midi/note_pairing.h"
#include "midi/scan.h"
#include "midi/text_decoding.h"
#include "model/score.h"

namespace yubifu::midi {

/// The events that hold the words: lyrics of the melody's track, otherwise those of the track that
/// has most; without any lyrics, the texts of a karaoke file (one with a text that begins with @K).
/// In order of time.
std::vector<MetaEvent> lyric_events(const std::vector<MetaEvent>& metas, std::uint16_t melody);

/// Where each of so many tracks has words, by its lyrics or the texts of a karaoke file: ticks.
std::vector<std::vector<std::int64_t>> sung_ticks(const std::vector<MetaEvent>& metas,
                                                  std::size_t tracks);

/// Whether lyrics may have the signs of karaoke files around their words, or are texts that this
/// program wrote and mean every letter.
enum class LyricSigns { karaoke, none };

/// The words of each note, empty where it has none: each lyric belongs to the note that begins
/// nearest, at most a sixteenth away; one without such a note is found. Several on one note are
/// joined by ‿. `notes` are as the file has them.
std::vector<std::string> join_lyrics(const std::vector<MetaEvent>& lyrics, LyricSigns signs,
                                     const std::vector<PairedNote>& notes, int ppq,
                                     const TextDecoder& decoder, Findings& findings);

/// The syllables of one verse. A word goes on after a hyphen at the end of a text, or, in files
/// that put spaces between words and have no hyphens, after a text without one. A lone hyphen or
/// underline carries the syllable before on.
std::vector<std::optional<model::Syllable>> to_syllables(const std::vector<std::string>& lyrics);

}  // namespace yubifu::midi
