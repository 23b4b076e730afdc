// The key signature of music that names none.
#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "model/pitch.h"

namespace yubifu::musicxml {

/// How often each pitch stands on the staff, by spelling where one is fixed, otherwise by pitch
/// class.
class PitchCount {
 public:
  /// A note whose spelling does not depend on the key.
  void add_spelled(const model::Spelling& spelling);

  /// A note that takes the name that the key gives it.
  void add_key(int staff_key);

  /// The notes that a key signature does not cover.
  std::size_t accidentals(int fifths) const;

  /// The key that needs the fewest accidentals; of equals the one whose do or la is the last
  /// note, then the one with fewer signs, then sharps. C without notes.
  int best_key() const;

 private:
  static constexpr int kMostAlter = 2;

  std::array<std::array<std::size_t, 2 * kMostAlter + 1>, 7> spelled_{};
  std::array<std::size_t, 12> keys_{};
  std::optional<int> last_;  // pitch class of the last note
};

}  // namespace yubifu::musicxml
