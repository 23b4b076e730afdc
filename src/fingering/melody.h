// A whole melody under the fingers: several flutes one after another, fixed notes among free
// ones, moved by octaves.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "fingering/infer.h"

namespace yubifu::fingering {

/// A tone that is fingered already, or a pitch that wants fingers.
struct MelodyTone {
  std::size_t flute = 0;         ///< index into the list of Fingerwork
  std::vector<Candidate> fixed;  ///< the patterns of the fingering it has; empty when it has none
  std::optional<double> wanted;  ///< cents from MIDI key 0; none: a gap that stays one
  int haste_into = 1;            ///< as in Task
  int haste = 1;
};

/// A melody and the fingers found for it.
struct FingeredMelody {
  std::vector<Task> tasks;  ///< one a tone
  Path path;

  /// Tones without fingers.
  std::size_t gaps() const;
};

/// A melody and the octaves by which it is moved.
struct ShiftedMelody {
  int octave = 0;
  FingeredMelody melody;
};

/// The tones with something to choose from, at a shift of the wanted pitches (fixed tones do not
/// move), and the cheapest path through them. A change of flute is a fresh start.
FingeredMelody finger(const std::vector<MelodyTone>& tones, const std::vector<Fingerwork>& flutes,
                      double shift_cents, Allowed allowed);

/// For each candidate of each tone: by how much the best path through it exceeds the best path.
std::vector<std::vector<std::int64_t>> detours(const std::vector<MelodyTone>& tones,
                                               const std::vector<Fingerwork>& flutes,
                                               const FingeredMelody& melody);

/// The melody at the shift in whole octaves that leaves the fewest wanted pitches without fingers;
/// of those the one of least effort; of those the smallest, and of two opposite ones the upward.
ShiftedMelody in_best_octave(const std::vector<MelodyTone>& tones,
                             const std::vector<Fingerwork>& flutes, double shift_cents,
                             Allowed allowed);

}  // namespace yubifu::fingering
