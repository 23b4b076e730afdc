// What is told of the notes without fingers: together, with what would help.
#pragma once

#include <vector>

#include "fingering/melody.h"
#include "fingering/resolve.h"
#include "fingering/tones.h"
#include "fingering/wording.h"

namespace yubifu::fingering {

/// A score that is fingered, and how that was done. `places`, `tones` and the tones of the score go
/// side by side.
struct FingeredScore {
  const model::Score& score;
  const std::vector<TimedTone>& places;
  const std::vector<MelodyTone>& tones;
  const std::vector<Fingerwork>& works;  ///< of each flute
  const ResolveOptions& options;
  double shift_cents = 0;  ///< by which the wanted pitches were moved
  enum class Fingers { kept, found } fingers = Fingers::found;
  enum class Octave { given, found } octave = Octave::given;
};

/// Reports `out-of-reach` once a flute, with the number of notes, their bars and the option that
/// leaves fewer of them: an octave, or the first of the usual sizes; and `needless-gap` for gaps of
/// the score that the flute has fingers for.
void report_gaps(const FingeredScore& fingered, Findings& findings);

}  // namespace yubifu::fingering
