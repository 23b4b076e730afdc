// Which track and channel of a file is the melody.
#pragma once

#include <string>
#include <vector>

#include "base/outcome.h"
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

/// Takes what the options ask for. Where that leaves a choice, the part that looks most like a
/// melody: one note at a time, a name such as flute or melody, an instrument that is blown, notes
/// in a singable register, never the drum channel if there is another; of equals the first. The
/// choice is told. `names` holds the names of each track. Errors: no notes at all, none where
/// asked.
base::Outcome<Melody> choose_melody(const std::vector<PairedNote>& notes,
                                    const std::vector<ChannelEvent>& events,
                                    const std::vector<std::string>& names,
                                    const MidiReadOptions& options);

}  // namespace yubifu::midi
