// The bars of a performance and the time signatures that make other programs see the same bars.
#pragma once

#include <cstddef>
#include <vector>

#include "midi/performance.h"
#include "midi/score_clock.h"
#include "model/score.h"

namespace yubifu::midi {

/// The bars as they are played. Two short bars in turn that add up to their meter are one, but for
/// a bar that is repeated. `order` are the written measures in the order they are played.
std::vector<SoundingBar> plan_bars(const model::Score& played,
                                   const std::vector<std::size_t>& order, const ScoreClock& clock);

/// A time signature wherever the bars would otherwise not fall where they do: at a new meter, at a
/// bar of another length than its meter (written as the meter of that length, if there is one) and
/// after it. Free time stands as a free meter. Throws model::TimeOverflow.
std::vector<Timed<model::Meter>> plan_meters(const std::vector<SoundingBar>& bars);

}  // namespace yubifu::midi
