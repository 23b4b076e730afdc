// The melody of a file: one track and channel, then one note at a time.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "base/diagnostic.h"
#include "base/findings.h"
#include "midi/read/notes.h"
#include "midi/read/reader.h"
#include "midi/read/texts.h"
#include "midi/smf/smf_bridge.h"

namespace yubifu::midi {

/// The notes of one track and channel, in order of their beginnings.
struct Part {
  std::vector<PairedNote> notes = {};
  std::uint16_t track = 0;
  std::uint8_t channel = 0;
  std::optional<int> program = {};  ///< of General MIDI, from 0
};

/// Takes what the options ask for. Where that leaves a choice, the track and channel that
/// `model::find_melody` finds: the drum channel is percussion, and a track without a telling name
/// has that of its instrument in General MIDI. A note is sung where a lyric stands on it: of its
/// own track where tracks with notes have lyrics, of any otherwise. The choice is told. Errors: no
/// notes at all, none where asked.
base::Outcome<Part> choose_melody(const std::vector<PairedNote>& notes,
                                  const std::vector<ChannelEvent>& events, const TrackWords& words,
                                  int ppq, const MidiReadOptions& options);

/// Whether notes at the far end of the keyboard belong to the music.
enum class FarNotes { kept, left_out };

/// Notes without length get a short one. Whether the part has chords or only an overlapping legato
/// is decided for all of it. Of notes that sound together keeps the top (or bottom) one; of notes
/// that merely overlap both stay, and who reads the line cuts the earlier one short. Far notes lie
/// more than an octave from all others and outside the three octaves of a flute where most of the
/// part lies, and are few, or outside the keys of a piano: they are breath markers and key
/// switches. In a part with chords, notes under the line (over the bottom one) that fill its rests
/// are known by a register of their own. The part, which is not empty, and the result are in order;
/// of the result no two notes begin together. Everything but small overlaps is found and told.
std::vector<PairedNote> melody_line(std::vector<PairedNote> part, Line line, int ppq, FarNotes far,
                                    base::Findings& findings);

}  // namespace yubifu::midi
