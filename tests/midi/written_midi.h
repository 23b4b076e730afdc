// What the writer makes of a fingering text, event by event.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "midi/write/writer.h"
#include "model/score.h"

namespace yubifu::midi {

/// A file as a strict reader of its own finds it: each event must have its status byte. Events are
/// words: "480 on 0 74 80" is tick, kind, channel, key, velocity; "off", "bend" (0 to 16383),
/// "control", "program" likewise; "0 meter 6 8 36 8", "0 key -3 minor", "0 tempo 500000",
/// "0 name T", "0 copyright T", "480 text T", "480 lyric 三", "480 marker A", "1920 end".
struct WrittenMidi {
  int format = -1;
  int ppq = 0;
  std::vector<std::vector<std::string>> tracks;
  std::vector<std::string> said;  ///< what the writer had to say: "severity rule in bar 1, 2"

  /// The events of a track that are of one of these kinds.
  std::vector<std::string> events(std::size_t track, const std::vector<std::string>& kinds) const;
  /// Of the tempo track.
  std::vector<std::string> tempos() const { return events(0, {"tempo"}); }
  /// "0-480 74" for each note of the flute track: ticks and key.
  std::vector<std::string> notes() const;
};

/// Fails the test where the bytes are no strict Standard MIDI File.
WrittenMidi decoded(std::string_view bytes);

/// A score of fingering text, resolved for the flute it names; fails the test on a fault.
model::Score score_of(std::string_view text);

/// `score_of` written. Without a header, the flute is that of size 6, whose 一 is B♭4, key 70.
WrittenMidi written(std::string_view text, const MidiWriteOptions& options = {});
WrittenMidi written(const model::Score& score, const MidiWriteOptions& options = {});

}  // namespace yubifu::midi
