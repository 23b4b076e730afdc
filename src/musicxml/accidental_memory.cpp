#include "musicxml/accidental_memory.h"

#include <algorithm>

namespace yubifu::musicxml {

void AccidentalMemory::set_key(const model::Key& key) {
  // Sharps come in the order F C G D A E B, flats the other way round.
  constexpr std::array<std::size_t, 7> kOrder{3, 0, 4, 1, 5, 2, 6};
  for (std::size_t i = 0; i < kOrder.size(); ++i) {
    const int rank = static_cast<int>(i);
    const bool sharp = rank < key.fifths;
    const bool flat = 6 - rank < -key.fifths;
    signature_[kOrder[i]] = static_cast<std::int8_t>(sharp ? 1 : flat ? -1 : 0);
  }
  forget();
}

void AccidentalMemory::forget() {
  in_force_.fill(signature_);
}

bool AccidentalMemory::needs_sign(const model::Spelling& spelling) {
  const int octave = std::clamp(spelling.octave - kLowestOctave, 0, static_cast<int>(kOctaves) - 1);
  std::int8_t& now =
      in_force_[static_cast<std::size_t>(octave)][static_cast<std::size_t>(spelling.step)];
  if (now == spelling.alter) return false;
  now = static_cast<std::int8_t>(spelling.alter);
  return true;
}

}  // namespace yubifu::musicxml
