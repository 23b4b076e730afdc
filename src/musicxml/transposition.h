// The `<transpose>` of a flute written in C.
#pragma once

#include <array>

#include "model/pitch.h"

namespace yubifu::musicxml {

inline constexpr int kWrittenC = 60;  ///< MIDI key of a written C4
inline constexpr int kMostSigns = 7;  ///< of a key signature

/// Semitones of the white keys above C, and of an octave.
inline constexpr std::array<int, 7> kScale{0, 2, 4, 5, 7, 9, 11};
inline constexpr int kOctaveKeys = 12;

/// From written to sounding pitch; the octaves come on top of the other two.
struct Transposition {
  int diatonic = 0;
  int chromatic = 0;
  int octaves = 0;

  int semitones() const { return chromatic + 12 * octaves; }

  /// Sharps (or, negative, flats) that the sounding key has more than the written one.
  int fifths() const { return 7 * chromatic - 12 * diatonic; }

  friend bool operator==(const Transposition&, const Transposition&) = default;
};

/// Which name a black key takes: F sharp or G flat, C sharp or D flat.
enum class Leaning { usual, sharps, flats };

/// From written C4 to `ichi_key`, the MIDI key of 一. Octaves are told apart only from a whole
/// octave on (MusicXML 4.0 reference, octave-change). F sharp and G flat, C sharp and D flat
/// follow the leaning; usual are F sharp and D flat.
Transposition transposition_to(int ichi_key, Leaning leaning);

/// What a written C4 sounds.
model::Spelling sound_of_written_c(const Transposition& transposition);

/// Of the keys that sound as `key` does one with at most seven signs.
model::Key within_seven_signs(model::Key key);

/// The written key of a sounding one; of keys that sound alike one with at most seven signs.
model::Key written_key(const model::Key& sounding, const Transposition& transposition);

}  // namespace yubifu::musicxml
