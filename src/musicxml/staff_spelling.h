// How pitches are spelled on the staff.
#pragma once

#include <array>

#include "model/pitch.h"
#include "model/score.h"

namespace yubifu::musicxml {

/// Spells the tones of a stretch of music in one key.
class StaffSpelling {
 public:
  /// `key` is the key on the staff. In C a half-holed note is its sign's letter flattened, whatever
  /// the key, but for F sharp in sharp keys; a sign with カ is its letter raised. Sounding, a
  /// tone's own spelling counts, otherwise the key.
  StaffSpelling(model::StaffMode mode, const model::Key& key);

  /// `staff_key` is the MIDI key on the staff: written in C, sounding otherwise.
  model::Spelling spell(const model::Tone& tone, int staff_key) const;

 private:
  struct Name {
    model::Step step = model::Step::c;
    int alter = 0;
  };

  model::StaffMode mode_;
  std::array<Name, 12> names_;  // of each pitch class
};

}  // namespace yubifu::musicxml
