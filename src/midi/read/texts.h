// The texts of a file: their encoding, the words that are sung, and what stands beside the notes.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/findings.h"
#include "midi/own_text.h"
#include "midi/read/notes.h"
#include "midi/read/reader.h"
#include "midi/smf/events.h"
#include "midi/smf/scan.h"
#include "model/pitch.h"
#include "model/score.h"

namespace yubifu::midi {

/// The encoding of all texts of a file, as asked for or found by all of them: a single one is too
/// short to tell. Warns where it is a last resort or some text is not in the one asked for.
Charset charset_of(const ScannedFile& file, Charset asked, base::Diagnostics& diagnostics);

/// A text in UTF-8; bytes that the encoding does not have become U+FFFD.
std::string decoded(std::string_view bytes, Charset charset);

/// The text as one line: control characters become spaces, and none stand at its ends.
std::string one_line_of(std::string_view text);

/// What a file tells of its tracks beside their notes.
struct TrackWords {
  std::vector<std::string> names;  ///< of each track, its instruments' included
  /// Of each track the events that hold words, in order of time: lyrics, or without any the texts
  /// of a karaoke file (one with a text that begins with @K).
  std::vector<std::vector<MetaEvent>> sung;
};
TrackWords track_words(const ScannedFile& file, Charset charset);

/// The words of each note, empty where it has none; they may have the signs of karaoke files around
/// them in a file that does not say what its lyrics are. Each lyric belongs to the note that begins
/// nearest, at most a sixteenth away; one without such a note is found. Several on one note are
/// joined by ‿. `notes` are as the file has them.
std::vector<std::string> join_lyrics(const std::vector<MetaEvent>& lyrics, Lyrics kind,
                                     const std::vector<PairedNote>& notes, int ppq, Charset charset,
                                     base::Findings& findings);

/// The syllables of one verse. A word goes on after a hyphen at the end of a text, or, in files
/// that put spaces between words and have no hyphens, after a text without one. A lone hyphen or
/// underline carries the syllable before on.
std::vector<std::optional<model::Syllable>> to_syllables(const std::vector<std::string>& lyrics);

/// A text, or a marker or cue point.
struct ReadText {
  std::uint8_t type = kText;  ///< a MetaType
  std::string text;           ///< one line, not empty
};

/// In order of time, with the ticks of the file.
struct Surroundings {
  std::string title;                    ///< the name of the piece: that of the first track
  std::string rights;                   ///< all different copyright notices
  std::vector<Timed<model::Key>> keys;  ///< of all tracks, without repetitions
  std::vector<Timed<ReadText>> texts;   ///< see below
  std::vector<Timed<model::HeaderField>> own_fields;  ///< that this program kept in texts
};

/// Texts, markers and cue points are taken from the tracks in `listened`: that of the melody and
/// those without notes. Texts that are sung are left out.
Surroundings read_surroundings(const ScannedFile& file, const std::vector<bool>& listened,
                               const std::vector<MetaEvent>& sung, Charset charset);

}  // namespace yubifu::midi
