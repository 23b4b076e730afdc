#include "musicxml/key_choice.h"

#include <algorithm>
#include <cstdlib>
#include <tuple>

namespace yubifu::musicxml {
namespace {

constexpr int kMostSigns = 7;
// The place of each letter on the circle of fifths, C being 0.
constexpr std::array<int, 7> kFifths{0, 2, 4, -1, 1, 3, 5};

using model::pitch_class;

// Seven neighbours on the circle of fifths are a scale: F to B in C major.
bool holds(int key, int fifth) {
  return fifth >= key - 1 && fifth <= key + 5;
}

int pitch_class_of_fifth(int fifth) {
  return pitch_class(7 * fifth);
}

}  // namespace

void PitchCount::add_spelled(const model::Spelling& spelling) {
  const int alter = std::clamp(spelling.alter, -kMostAlter, kMostAlter) + kMostAlter;
  ++spelled_[static_cast<std::size_t>(spelling.step)][static_cast<std::size_t>(alter)];
  last_ = pitch_class(model::midi_key(spelling));
}

void PitchCount::add_key(int staff_key) {
  last_ = pitch_class(staff_key);
  ++keys_[static_cast<std::size_t>(*last_)];
}

std::size_t PitchCount::accidentals(int fifths) const {
  std::size_t count = 0;
  for (std::size_t step = 0; step < spelled_.size(); ++step) {
    for (std::size_t i = 0; i < spelled_[step].size(); ++i) {
      const int alter = static_cast<int>(i) - kMostAlter;
      if (!holds(fifths, kFifths[step] + 7 * alter)) count += spelled_[step][i];
    }
  }
  std::array<bool, 12> scale{};
  for (int fifth = fifths - 1; fifth <= fifths + 5; ++fifth) {
    scale[static_cast<std::size_t>(pitch_class_of_fifth(fifth))] = true;
  }
  for (std::size_t key = 0; key < keys_.size(); ++key) {
    if (!scale[key]) count += keys_[key];
  }
  return count;
}

int PitchCount::best_key() const {
  using Weight = std::tuple<std::size_t, int, int, int>;
  int best = 0;
  std::optional<Weight> least;
  for (int fifths = -kMostSigns; fifths <= kMostSigns; ++fifths) {
    // La is three fifths above do.
    const bool ends_home = last_ && (*last_ == pitch_class_of_fifth(fifths) ||
                                     *last_ == pitch_class_of_fifth(fifths + 3));
    const Weight weight{accidentals(fifths), ends_home ? 0 : 1, std::abs(fifths),
                        fifths < 0 ? 1 : 0};
    if (least && *least <= weight) continue;
    least = weight;
    best = fifths;
  }
  return best;
}

}  // namespace yubifu::musicxml
