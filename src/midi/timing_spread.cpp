#include "midi/timing_spread.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace yubifu::midi {
namespace {

constexpr std::size_t kFewestMeasured = 12;  // fewer notes tell nothing about their player
constexpr double kLeastSpread = 6;           // milliseconds
constexpr double kMostSpread = 50;
constexpr double kMicrosecondsPerMillisecond = 1000;
constexpr int kJoinParts = 4;  // of a quarter note
// The standard deviation of a normal distribution in terms of its median absolute deviation.
constexpr double kFromMedianDeviation = 1.4826;

struct Measured {
  double middle = 0;
  double spread = 0;
};

// By medians, which single slips do not move.
Measured measure(std::vector<double> values) {
  const auto median = [](std::vector<double>& list) {
    const auto middle = list.begin() + static_cast<std::ptrdiff_t>(list.size() / 2);
    std::nth_element(list.begin(), middle, list.end());
    return *middle;
  };
  Measured result;
  result.middle = median(values);
  for (double& value : values) value = std::abs(value - result.middle);
  result.spread = kFromMedianDeviation * median(values);
  return result;
}

}  // namespace

double TempoWalk::milliseconds_per_tick(std::int64_t tick) {
  while (at_ + 1 < tempos_.size() && tempos_[at_ + 1].tick <= tick) ++at_;
  return tempos_[at_].value / kMicrosecondsPerMillisecond / static_cast<double>(ppq_);
}

TimingSpread::TimingSpread(const std::vector<TickSpan>& played,
                           const std::vector<std::int64_t>& meant, const QuantiserTime& time) {
  std::vector<double> errors;
  std::vector<double> gaps;
  TempoWalk tempo(time.tempos, time.ppq);
  for (std::size_t i = 0; i < played.size(); ++i) {
    const double ms = tempo.milliseconds_per_tick(played[i].begin);
    errors.push_back(static_cast<double>(played[i].begin - meant[i]) * ms);
    if (i == 0) continue;
    const std::int64_t gap = played[i].begin - played[i - 1].end;
    if (std::abs(gap) < time.ppq / kJoinParts) gaps.push_back(static_cast<double>(gap) * ms);
  }
  if (errors.size() < kFewestMeasured) return;
  const Measured onset = measure(std::move(errors));
  late_ = onset.middle;
  spread_ = std::clamp(onset.spread, kLeastSpread, kMostSpread);
  if (gaps.size() < kFewestMeasured) return;
  // A gap spreads by the onset and by the end; what the onset does not explain is the end's. Nobody
  // ends notes more exactly than they begin them.
  const Measured gap = measure(std::move(gaps));
  gap_ = gap.middle;
  const double rest = gap.spread * gap.spread - onset.spread * onset.spread;
  end_spread_ = std::max(spread_, std::sqrt(std::max(rest, 0.0)));
}

Onset TimingSpread::best_onset(double tick, std::optional<double> gap,
                               double milliseconds_per_tick) const {
  const double here = tick - late_ / milliseconds_per_tick;
  if (!gap || !end_spread_) return {here, spread_};
  // The end of the note before, moved by the usual gap, was meant for the same moment.
  const double by_end = here - *gap + gap_ / milliseconds_per_tick;
  const double trust = 1 / (spread_ * spread_);
  const double trust_end = 1 / (*end_spread_ * *end_spread_);
  return {(here * trust + by_end * trust_end) / (trust + trust_end),
          1 / std::sqrt(trust + trust_end)};
}

}  // namespace yubifu::midi
