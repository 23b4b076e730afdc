// What the bends of a channel mean for each note.
#pragma once

#include <vector>

#include "midi/bend_line.h"
#include "midi/findings.h"
#include "midi/note_pairing.h"

namespace yubifu::midi {

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
                                    int ppq, Findings& findings);

}  // namespace yubifu::midi
