// How many ticks a quarter note gets in a written file, and the ticks of a score's times.
#pragma once

#include <cmath>
#include <cstdint>
#include <optional>
#include <vector>

#include "model/rational.h"
#include "model/score.h"

namespace yubifu::midi {

/// Ticks a quarter note where nothing finer is needed.
inline constexpr int kFewestTicks = 480;
inline constexpr int kMostTicksPerQuarter = 32767;  ///< fifteen bits (SMF 1.1)

/// `exact` when every onset, end and bar of the score falls on a whole tick.
struct TickGrid {
  int ppq = kFewestTicks;
  bool exact = true;
};

/// A time in ticks; one between two ticks goes to the nearest. Throws model::TimeOverflow.
std::int64_t to_ticks(model::Rational time, int ppq);

/// The least grid of 480 to 32767 ticks that holds every time of the score, grace notes included
/// where they fit. Without one, a fine grid that holds the commonest divisions. `asked` decides
/// instead where it is given.
TickGrid choose_grid(const model::Score& score, std::optional<int> asked);

/// What one grace note of this note takes from it: an eighth of a quarter, less where all of them
/// together would take more than half. The note has at least one.
model::Rational grace_length(const model::Note& note);

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

  /// `onset` counts from the start of the measure, perhaps beyond its end. Throws TimeOverflow.
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
