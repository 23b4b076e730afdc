// How loud each note of a score is played.
#pragma once

#include <cstddef>

#include "model/score.h"

namespace yubifu::midi {

/// Velocities of a played-out score: the given one at mf, 12 more a step, 16 more for an accent or
/// a forced note (our choice: the ear tells them apart, and ffff stays in range); 1 to 127.
class Loudness {
 public:
  /// Refers to the score.
  Loudness(const model::Score& played, int velocity) : played_(played), velocity_(velocity) {}

  /// Of a note of the score; ask in order.
  int of(const model::Note& note);

 private:
  const model::Score& played_;
  int velocity_;
  int steps_ = 0;
  std::size_t next_ = 0;  ///< the first direction that was not looked at
};

}  // namespace yubifu::midi
