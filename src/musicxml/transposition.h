// The `<transpose>` of a flute written in C.
#pragma once

#include <array>

#include "model/pitch.h"

namespace yubifu::musicxml {

inline constexpr int kWrittenC = 60;  ///< MIDI key of a written C4
inline constexpr int kMostSigns = 7;  ///< of a key signature
inline constexpr int kOctaveKeys = 12;
inline constexpr int kOctaveSteps = 7;

/// From written to sounding pitch; the octaves come on top of the other two.
struct Transposition {
  int diatonic = 0;
  int chromatic = 0;
  int octaves = 0;

  int semitones() const { return chromatic + kOctaveKeys * octaves; }

  /// Sharps (or, negative, flats) that the sounding key has more than the written one.
  int fifths() const { return 7 * chromatic - 12 * diatonic; }

  friend bool operator==(const Transposition&, const Transposition&) = default;
};

/// Which name a black key takes: F sharp or G flat, C sharp or D flat.
enum class Leaning { flats = -1, usual, sharps };

/// From written C4 to `ichi_key`, the MIDI key of 一. Octaves are told apart only from a whole
/// octave on (MusicXML 4.0 reference, octave-change). F sharp and G flat, C sharp and D flat
/// follow the leaning; usual are F sharp and D flat.
inline Transposition transposition_to(int ichi_key, Leaning leaning) {
  // Steps of each interval in semitones, as players' sheets write them.
  constexpr std::array<int, kOctaveKeys> kUsualSteps{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6};
  const int distance = ichi_key - kWrittenC;
  const int direction = distance < 0 ? -1 : 1;
  const int interval = direction * distance % kOctaveKeys;
  int steps = kUsualSteps[static_cast<std::size_t>(interval)];
  // Downwards sharps and flats change places.
  const int towards = direction * static_cast<int>(leaning);
  if (interval == 6 && towards < 0) steps = 4;
  if (interval == 1 && towards > 0) steps = 0;
  return {direction * steps, direction * interval, distance / kOctaveKeys};
}

/// The spelling of a MIDI key on a step of the staff, counted from C0.
inline model::Spelling spelled_on(int step, int key) {
  const int octave = (step < 0 ? step - kOctaveSteps + 1 : step) / kOctaveSteps;
  model::Spelling spelling{static_cast<model::Step>(step - kOctaveSteps * octave), 0, octave};
  spelling.alter = key - model::midi_key(spelling);
  return spelling;
}

/// What a written C4 sounds.
inline model::Spelling sound_of_written_c(const Transposition& transposition) {
  return spelled_on(transposition.diatonic + kOctaveSteps * (4 + transposition.octaves),
                    kWrittenC + transposition.semitones());
}

/// Of the keys that sound as `key` does one with at most seven signs.
inline model::Key within_seven_signs(model::Key key) {
  while (key.fifths > kMostSigns) key.fifths -= kOctaveKeys;
  while (key.fifths < -kMostSigns) key.fifths += kOctaveKeys;
  return key;
}

/// The written key of a sounding one; of keys that sound alike one with at most seven signs.
inline model::Key written_key(const model::Key& sounding, const Transposition& transposition) {
  return within_seven_signs({sounding.fifths - transposition.fifths(), sounding.mode});
}

}  // namespace yubifu::musicxml
