// The tempo of a performance: changes, ramps and fermatas on one line.
#pragma once

#include <cstdint>
#include <vector>

#include "midi/performance.h"
#include "midi/score_clock.h"
#include "model/score.h"

namespace yubifu::midi {

/// The tempo in quarters a minute wherever it changes, the first at tick 0. The score is played
/// out. Rit and accel move the tempo in steps of half a quarter, over at most eight quarters, to
/// the next tempo where that lies their way, otherwise to three quarters or four thirds of the
/// tempo before; a-tempo goes back to the last tempo set. A fermata, on a note or a rest, halves
/// what there is (common practice leaves the amount to the player).
std::vector<Timed<double>> plan_tempo(const model::Score& played, const ScoreClock& clock);

}  // namespace yubifu::midi
