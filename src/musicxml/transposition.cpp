#include "musicxml/transposition.h"

namespace yubifu::musicxml {
namespace {

// Steps of each interval in semitones, as players' sheets write them.
constexpr std::array<int, kOctaveKeys> kUsualSteps{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6};

int steps_of(int semitones, Leaning leaning) {
  if (semitones == 6 && leaning == Leaning::flats) return 4;
  if (semitones == 1 && leaning == Leaning::sharps) return 0;
  return kUsualSteps[static_cast<std::size_t>(semitones)];
}

}  // namespace

Transposition transposition_to(int ichi_key, Leaning leaning) {
  const int distance = ichi_key - kWrittenC;
  const int octaves = distance / kOctaveKeys;
  const int chromatic = distance % kOctaveKeys;
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
  const int natural = kScale[static_cast<std::size_t>(step)] + kOctaveKeys * octave;
  return {static_cast<model::Step>(step), transposition.semitones() - natural, 4 + octave};
}

model::Key within_seven_signs(model::Key key) {
  while (key.fifths > kMostSigns) key.fifths -= kOctaveKeys;
  while (key.fifths < -kMostSigns) key.fifths += kOctaveKeys;
  return key;
}

model::Key written_key(const model::Key& sounding, const Transposition& transposition) {
  return within_seven_signs({sounding.fifths - transposition.fifths(), sounding.mode});
}

}  // namespace yubifu::musicxml
