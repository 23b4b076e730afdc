// All tones of a score in the order in which they sound, with the time that the fingers have.
#pragma once

#include <cstddef>
#include <vector>

#include "model/score.h"

namespace yubifu::fingering {

/// What a tone is to its note.
enum class ToneRole { grace_before, main, grace_after };

/// Where a tone stands in its score.
struct TonePlace {
  std::size_t note = 0;  ///< index into Score::notes
  ToneRole role = ToneRole::main;
  std::size_t index = 0;  ///< among the grace notes before or after; 0 for the note itself

  friend bool operator==(const TonePlace&, const TonePlace&) = default;
};

/// A tone and its time in seconds.
struct TimedTone {
  TonePlace place;
  double seconds_into = 0;  ///< from the start of the tone before to the start of this one
  double seconds = 0;       ///< how long it sounds, fermatas aside
};

/// Repeats are not played out. Each grace note takes an eighth of a quarter from its main note,
/// all of them together at most half of it. Tempo changes count, rit and accel do not.
std::vector<TimedTone> timed_tones(const model::Score& score);

/// The tone at a place, which must exist.
const model::Tone& tone_at(const model::Score& score, const TonePlace& place);
model::Tone& tone_at(model::Score& score, const TonePlace& place);

}  // namespace yubifu::fingering
