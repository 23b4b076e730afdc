// Which track and channel of a file is the melody.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "midi/events.h"
#include "midi/note_pairing.h"
#include "midi/reader.h"

namespace yubifu::midi {

/// The notes of one track and channel, in order of their beginnings.
struct Melody {
  std::vector<PairedNote> notes;
  std::uint16_t track = 0;
  std::uint8_t channel = 0;
};

/// What a file tells of its tracks and channels beside their notes.
struct TrackWords {
  std::vector<std::string> names;  ///< of each track
  /// Where something is sung, in each track: ticks in order.
  std::vector<std::vector<std::int64_t>> sung;
};

/// Takes what the options ask for. Where that leaves a choice, the track and channel that
/// `model::find_melody` finds: the drum channel is percussion, and a track without a telling name
/// has that of its instrument in General MIDI. A note is sung where a lyric stands on it: of its
/// own track where tracks with notes have lyrics, of any otherwise. The choice is told. Errors: no
/// notes at all, none where asked.
base::Outcome<Melody> choose_melody(const std::vector<PairedNote>& notes,
                                    const std::vector<ChannelEvent>& events,
                                    const TrackWords& words, int ppq,
                                    const MidiReadOptions& options);

}  // namespace yubifu::midi
