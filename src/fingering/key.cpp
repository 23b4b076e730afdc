#include "fingering/key.h"

#include <array>
#include <cstddef>
#include <cstdlib>
#include <optional>
#include <tuple>

namespace yubifu::fingering {
namespace {

constexpr int kMostFifths = 6;

using model::pitch_class;

// The scale of a key signature is seven neighbours on the circle of fifths, from fa to ti.
bool in_scale(int midi_key, int fifths) {
  for (int fifth = fifths - 1; fifth <= fifths + 5; ++fifth) {
    if (pitch_class(7 * fifth) == pitch_class(midi_key)) return true;
  }
  return false;
}

}  // namespace

model::Key find_key(const std::vector<int>& midi_keys) {
  if (midi_keys.empty()) return {};
  std::array<std::size_t, 12> counts{};
  for (const int key : midi_keys) ++counts[static_cast<std::size_t>(pitch_class(key))];
  const int last = pitch_class(midi_keys.back());
  // Fewest outside the scale, last note do or la, fewest sharps or flats, sharps before flats.
  using Rank = std::tuple<std::size_t, bool, int, int>;
  std::optional<Rank> best;
  model::Key found;
  for (int fifths = -kMostFifths; fifths <= kMostFifths; ++fifths) {
    std::size_t outside = 0;
    for (int key = 0; key < 12; ++key) {
      if (!in_scale(key, fifths)) outside += counts[static_cast<std::size_t>(key)];
    }
    const bool ends_on_do = pitch_class(7 * fifths) == last;
    const bool ends_on_la = pitch_class(7 * fifths + 9) == last;
    const Rank rank{outside, !ends_on_do && !ends_on_la, std::abs(fifths), -fifths};
    if (best && *best <= rank) continue;
    best = rank;
    found = {fifths, ends_on_la ? model::Mode::minor : model::Mode::major};
  }
  return found;
}

model::Key moved_key(const model::Key& key, int semitones) {
  if (semitones == 0) return key;
  int fifths = pitch_class(key.fifths + 7 * semitones);
  if (fifths > kMostFifths || (fifths == kMostFifths && key.fifths < 0)) fifths -= 12;
  return {fifths, key.mode};
}

}  // namespace yubifu::fingering
