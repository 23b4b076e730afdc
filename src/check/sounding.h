// A score as it sounds: in the form in which a MIDI file holds it, or with the same fingers on
// another flute.
#pragma once

#include <optional>
#include <string>

#include "model/score.h"

namespace yubifu::check {

/// Repeats, endings and jumps played out, grace notes as notes that take their time from the main
/// one (an eighth of a quarter each, together at most half of it), and of the song text what each
/// time through sings, as verse 1: the first time the first verse, then the next one, if there is
/// one; shoga where there is nothing else. Gaps lose their spelling; marks, slurs and directions
/// are gone, except for tempos. Nothing for a score that cannot be played out.
std::optional<model::Score> as_sounding(const model::Score& score);

/// A score as it would be on the flute of another one.
struct OnOtherFlute {
  model::Score score;  ///< pitches, keys and flutes moved
  std::string told;    ///< what has moved, for people
};

/// Moves `score` to the flute of `other` if it names another flute, every note has the fingers of
/// the other's note (or both are gaps), and all sound by one interval higher or lower; to within so
/// many cents. Nothing otherwise.
std::optional<OnOtherFlute> on_flute_of(const model::Score& other, const model::Score& score,
                                        double tolerance);

}  // namespace yubifu::check
