// What a MIDI file says beside its notes.
#pragma once

#include <string>
#include <vector>

#include "midi/scan.h"
#include "midi/text_decoding.h"
#include "midi/timed.h"
#include "model/pitch.h"

namespace yubifu::midi {

/// What a text is for.
enum class TextUse { text, marker };

/// A text, marker or cue point.
struct ReadText {
  TextUse use = TextUse::text;
  std::string text;  ///< one line, not empty

  friend bool operator==(const ReadText&, const ReadText&) = default;
};

/// A header field that this program kept in a text event.
struct OwnField {
  std::string key;
  std::string value;

  friend bool operator==(const OwnField&, const OwnField&) = default;
};

/// In order of time, with the ticks of the file.
struct Surroundings {
  std::string title;                    ///< the name of the piece: that of the first track
  std::string rights;                   ///< all different copyright notices
  std::vector<Timed<model::Key>> keys;  ///< of all tracks, without repetitions
  std::vector<Timed<ReadText>> texts;   ///< see below
  std::vector<Timed<OwnField>> own_fields;
};

/// Texts, markers and cue points are taken from the tracks in `listened`: that of the melody and
/// those without notes. Texts that are sung are left out.
Surroundings read_surroundings(const ScannedFile& file, const std::vector<bool>& listened,
                               const std::vector<MetaEvent>& sung, const TextDecoder& decoder);

/// The names of each track, its instruments' included.
std::vector<std::string> track_names(const ScannedFile& file, const TextDecoder& decoder);

/// Every text of the file, for TextDecoder.
std::vector<std::string_view> all_texts(const ScannedFile& file);

}  // namespace yubifu::midi
