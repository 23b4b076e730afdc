// The notes of a file with their ends and their bends.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "base/diagnostic.h"
#include "base/findings.h"
#include "midi/smf/events.h"
#include "midi/smf/smf_bridge.h"

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

inline constexpr int kChannels = 16;

/// From each tick on, so many cents: the bends of one channel in order, each tick once; before the
/// first there is no bend.
using BendLine = std::vector<Timed<double>>;

/// The bends of all sixteen channels, over all tracks: pitch wheel in the range that RPN 0 gives
/// (two semitones before that), fine and coarse tuning (RPN 1 and 2), and the reset of controllers.
/// `events` are in order of tracks, then of time.
std::array<BendLine, kChannels> bend_lines(const std::vector<ChannelEvent>& events);

/// A warning for each channel whose pitch wheel is not in its middle after the last event.
base::Diagnostics unreset_bends(const std::vector<ChannelEvent>& events);

/// How a note leaves its pitch.
enum class Leaving { straight, slides_to_next };

/// The sounding pitch of a note, in cents from MIDI key 0.
struct BentPitch {
  double total_cents = 0;
  Leaving leaving = Leaving::straight;
};

/// One entry a note; the notes are in order. A bend that stands for nine tenths of a note is its
/// pitch. Where the bend moves and ends within 50 cents of a next note that follows at once, the
/// note has the pitch it was held at longest and slides; otherwise the average. Both are found.
std::vector<BentPitch> bent_pitches(const std::vector<PairedNote>& notes, const BendLine& line,
                                    int ppq, base::Findings& findings);

}  // namespace yubifu::midi
