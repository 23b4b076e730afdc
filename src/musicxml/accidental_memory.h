// Which accidentals are in force on the staff.
#pragma once

#include <array>
#include <cstdint>

#include "model/pitch.h"

namespace yubifu::musicxml {

/// Accidentals hold to the end of the bar, for their own line or space only.
class AccidentalMemory {
 public:
  explicit AccidentalMemory(const model::Key& key) { set_key(key); }

  /// A new key signature; also forgets the accidentals of the bar.
  void set_key(const model::Key& key);

  /// A new bar begins.
  void forget();

  /// Whether the note needs its accidental printed, which is in force from now on.
  bool needs_sign(const model::Spelling& spelling);

 private:
  static constexpr int kLowestOctave = -1;
  static constexpr std::size_t kOctaves = 12;

  using Octave = std::array<std::int8_t, 7>;

  Octave signature_{};
  std::array<Octave, kOctaves> in_force_{};
};

}  // namespace yubifu::musicxml
