// Which pitches a score holds.
#pragma once

namespace yubifu::model {

/// MIDI keys, carried on below 0 and above 127: all that a staff with its transposition or a MIDI
/// file with its bends can say. What no MIDI file plays stays in the score as a gap.
inline constexpr int kLowestKey = -150;
inline constexpr int kHighestKey = 300;

/// The octaves of their spellings; 4 begins at middle C.
inline constexpr int kLowestOctave = -14;
inline constexpr int kHighestOctave = 25;

/// True for the keys that a score may hold.
constexpr bool is_key(int key) {
  return key >= kLowestKey && key <= kHighestKey;
}

}  // namespace yubifu::model
