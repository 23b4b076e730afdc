// The tempo of a performance: changes, ramps and fermatas on one line.
#pragma once

#include <vector>

#include "midi/write/performance.h"
#include "midi/write/tick_grid.h"
#include "model/score.h"

namespace yubifu::midi {

/// Tempos in quarters a minute wherever they change, the first at tick 0.
struct TempoPlan {
  std::vector<Timed<double>> counted;  ///< without fermatas: what a player counts
  std::vector<Timed<double>> heard;
};

/// The score is played out. Rit and accel move the tempo in steps of half a quarter, over at most
/// eight quarters, to the next tempo where that lies their way, otherwise to three quarters or four
/// thirds of the tempo before; a-tempo goes back to the last tempo set. A fermata, on a note or a
/// rest, halves what there is (common practice leaves the amount to the player).
TempoPlan plan_tempo(const model::Score& played, const ScoreClock& clock);

}  // namespace yubifu::midi
