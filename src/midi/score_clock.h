// The ticks of a score's times.
#pragma once

#include <cmath>
#include <cstdint>
#include <vector>

#include "midi/tick_grid.h"
#include "model/score.h"

namespace yubifu::midi {

/// Bars are laid end to end from tick 0. On an exact grid every tick is exact; otherwise each time
/// goes to its own nearest tick (one halfway to the later), so that errors do not add up.
class ScoreClock {
 public:
  /// The score is asked only now.
  ScoreClock(const model::Score& score, TickGrid grid) : grid_(grid) {
    double start = 0;
    for (const model::Measure& measure : score.measures) {
      starts_.push_back(start);
      start += measure.length.as_double() * grid.ppq;
    }
    starts_.push_back(start);
  }

  /// `onset` counts from the start of the measure and may lie beyond its end. Throws
  /// model::TimeOverflow.
  std::int64_t tick(std::size_t measure, model::Rational onset) const {
    if (grid_.exact) return nearest(starts_[measure]) + to_ticks(onset, grid_.ppq);
    return nearest(starts_[measure] + onset.as_double() * grid_.ppq);
  }

  /// Where a measure begins, in ticks; one past the last measure is the end.
  std::int64_t start(std::size_t measure) const { return nearest(starts_[measure]); }
  /// The end in ticks, not rounded.
  double end() const { return starts_.back(); }
  int ppq() const { return grid_.ppq; }

 private:
  // More than the sums of the starts are off, so that halfway is halfway.
  static constexpr double kRoundingError = 1e-6;

  static std::int64_t nearest(double ticks) {
    return static_cast<std::int64_t>(std::floor(ticks + 0.5 + kRoundingError));
  }

  TickGrid grid_;
  std::vector<double> starts_;  ///< of each measure, and the end
};

}  // namespace yubifu::midi
