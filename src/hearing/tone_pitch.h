// The exact pitch of a steady tone, from how the phases of its partials advance.
#pragma once

#include <optional>
#include <span>

namespace yubifu::hearing {

/// A pitch that may be an octave off as far as the sound alone tells: the partials that only the
/// lower one has are there, but so weak that they might be of the breath or the room.
enum class OctaveDoubt { none, maybe_higher, maybe_lower };

/// What a tone sounds over its whole steady middle.
struct TonePitch {
  double hz = 0;            ///< the centre of its vibrato, the middle of its drift
  double spread_cents = 0;  ///< standard deviation about the line of its drift
  double drift_cents = 0;   ///< from its beginning to its end
  double error_cents = 0;   ///< standard error of `hz`, as far as the tone's unrest tells
  OctaveDoubt octave = OctaveDoubt::none;
};

/// Measures the tone that `samples` hold from end to end, at `rate` samples a second. `about_hz`
/// may be off by half a semitone, and by octaves. Nothing when no partial carries a pitch.
std::optional<TonePitch> pitch_of_tone(std::span<const float> samples, double rate,
                                       double about_hz);

}  // namespace yubifu::hearing
