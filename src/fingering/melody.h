// A whole melody under the fingers: several flutes one after another, fixed notes among free
// ones, moved by octaves.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "fingering/infer.h"
#include "fingering/tones.h"

namespace yubifu::fingering {

/// A tone that is fingered already, or a pitch that wants fingers.
struct MelodyTone {
  std::size_t flute = 0;           ///< index into the list of Fingerwork
  std::optional<Candidate> fixed;  ///< the fingering it has
  std::optional<double> wanted;    ///< cents from MIDI key 0; none: a gap that stays one
  int haste_into = 1;              ///< as in Task
};

/// A melody and the fingers found for it.
struct FingeredMelody {
  std::vector<Task> tasks;  ///< one a tone
  Path path;
};

/// Shifts further than the ten octaves of MIDI are not looked at.
inline constexpr int kMostOctaves = 10;

/// How a melody lies at one shift.
struct Lie {
  int octave = 0;  ///< by which it is moved
  std::size_t gaps = 0;
  std::size_t third_register = 0;
  /// What decides between shifts and flutes: the effort of the path, where third-register notes
  /// count double with the change into them, and the points of the table for gaps and for flutes
  /// that stretch the hand.
  std::int64_t weight = 0;
};

/// A melody at the shift that suits it, and how it would lie at every other.
struct ShiftedMelody {
  Lie lie;
  FingeredMelody melody;
  std::vector<Lie> others;  ///< the lightest first
};

/// The tones with something to choose from, at a shift of the wanted pitches (fixed tones do not
/// move), and the cheapest path through them. A change of flute is a fresh start.
FingeredMelody finger(const std::vector<MelodyTone>& tones, const std::vector<Fingerwork>& flutes,
                      double shift_cents, Allowed allowed);

/// Whether a weight is the least one or at most a twentieth more: too little to feel.
bool weigh_alike(std::int64_t weight, std::int64_t least);

/// The melody at the shift in whole octaves that weighs least; of all that weigh at most a
/// twentieth more the one nearest to the written pitch, and of two as near the lower.
ShiftedMelody in_best_octave(const std::vector<MelodyTone>& tones,
                             const std::vector<Fingerwork>& flutes, double shift_cents,
                             Allowed allowed);

/// Whether the reasons are kept.
enum class Explain { nothing, every_tone };

/// One way in which a tone could have been played.
struct ExplainedCandidate {
  model::Fingering fingering;
  model::HolePattern holes;
  NoteEffort note;
  std::optional<ChangeEffort> change;  ///< from the fingers chosen before; none after a gap
  std::int64_t detour = 0;             ///< how much more the whole melody would cost this way
};

/// A tone with all that it could have been played with.
struct ExplainedTone {
  TonePlace place;
  std::vector<ExplainedCandidate> candidates;
  std::optional<std::size_t> chosen;  ///< index into candidates; none for a gap
  std::string reason;                 ///< one sentence without a full stop
};

/// `places` and `tones` go side by side.
std::vector<ExplainedTone> explain(const std::vector<TimedTone>& places,
                                   const std::vector<MelodyTone>& tones,
                                   const std::vector<Fingerwork>& flutes,
                                   const FingeredMelody& melody);

}  // namespace yubifu::fingering
