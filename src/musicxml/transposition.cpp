#include "musicxml/transposition.h"

#include <array>
#include <cstdlib>

namespace yubifu::musicxml {
namespace {

constexpr int kWrittenC = 60;
constexpr int kOctave = 12;
constexpr int kMostSigns = 7;

// Steps of each interval in semitones, as players' sheets write them.
constexpr std::array<int, kOctave> kUsualSteps{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6};

constexpr std::array<int, 7> kScale{0, 2, 4, 5, 7, 9, 11};

int steps_of(int semitones, Leaning leaning) {
  if (semitones == 6 && leaning == Leaning::flats) return 4;
  if (semitones == 1 && leaning == Leaning::sharps) return 0;
  return kUsualSteps[static_cast<std::size_t>(semitones)];
}

}  // namespace

Transposition transposition_to(int ichi_key, Leaning leaning) {
  const int distance = ichi_key - kWrittenC;
  const int octaves = distance / kOctave;
  const int chromatic = distance % kOctave;
  if (chromatic >= 0) return {steps_of(chromatic, leaning), chromatic, octaves};
  // Downwards sharps and flats change places.
  const Leaning mirrored = leaning == Leaning::sharps  ? Leaning::flats
                           : leaning == Leaning::flats ? Leaning::sharps
                                                       : Leaning::usual;
  return {-steps_of(-chromatic, mirrored), chromatic, octaves};
}

model::Spelling sound_of_written_c(const Transposition& transposition) {
  const int steps = transposition.diatonic + 7 * transposition.octaves;
  const int octave = steps >= 0 ? steps / 7 : (steps - 6) / 7;
  const int step = steps - 7 * octave;
  const int natural = kScale[static_cast<std::size_t>(step)] + kOctave * octave;
  return {static_cast<model::Step>(step), transposition.semitones() - natural, 4 + octave};
}

model::Key written_key(const model::Key& sounding, const Transposition& transposition) {
  model::Key key{sounding.fifths - transposition.fifths(), sounding.mode};
  while (key.fifths > kMostSigns) key.fifths -= kOctave;
  while (key.fifths < -kMostSigns) key.fifths += kOctave;
  return key;
}

}  // namespace yubifu::musicxml
