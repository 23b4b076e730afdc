// The same fingers on another flute: one difference, however many notes sound otherwise.
#pragma once

#include <optional>
#include <string>

#include "model/score.h"

namespace yubifu::check {

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
