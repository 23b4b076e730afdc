// Note-ons and the note-offs that end them.
#pragma once

#include <cstdint>
#include <vector>

#include "midi/events.h"

namespace yubifu::midi {

/// How a note came to its end: by its note-off, or because its track was over.
enum class NoteEnd { released, track_over };

/// A note as the file has it.
struct PairedNote {
  std::int64_t begin = 0;
  std::int64_t end = 0;  ///< not before `begin`, and equal to it for a note without length
  std::uint16_t track = 0;
  std::uint8_t channel = 0;
  std::uint8_t key = 0;
  NoteEnd ended_by = NoteEnd::released;
};

/// Pairs the events of each track and channel by key; of overlapping notes at one pitch the oldest
/// ends first, so that a note-on before the note-off of one tick strikes the note anew. Velocity 0
/// and the channel messages that silence everything end notes too. `events` are in order of tracks,
/// then of time; the notes come in order of their note-ons.
std::vector<PairedNote> pair_notes(const std::vector<ChannelEvent>& events,
                                   const std::vector<std::int64_t>& track_ends);

}  // namespace yubifu::midi
