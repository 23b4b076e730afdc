#include "midi/timing_spread.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "midi/tempo_walk.h"

namespace yubifu::midi {
namespace {

constexpr std::size_t kFewestMeasured = 12;  // fewer notes tell nothing about their player
constexpr double kLeastSpread = 6;           // milliseconds
constexpr double kMostSpread = 50;
constexpr double kSureErrors = 3;   // standard errors
constexpr double kMostShare = 0.5;  // of a note, between it and the next
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

// Between joined notes, in milliseconds: how far their onsets lie apart, and the gap.
struct Gap {
  double step = 0;
  double gap = 0;
};

// Who detaches notes shortens long ones by more. The share of a note that its gap takes, by least
// squares; none where chance could have made it.
double share_of_steps(const std::vector<Gap>& gaps) {
  const auto count = static_cast<double>(gaps.size());
  Gap mean;
  for (const Gap& gap : gaps) {
    mean.step += gap.step / count;
    mean.gap += gap.gap / count;
  }
  double steps = 0;
  double both = 0;
  double all = 0;
  for (const Gap& gap : gaps) {
    steps += (gap.step - mean.step) * (gap.step - mean.step);
    both += (gap.step - mean.step) * (gap.gap - mean.gap);
    all += (gap.gap - mean.gap) * (gap.gap - mean.gap);
  }
  if (steps <= 0) return 0;
  const double share = both / steps;
  const double unexplained = std::max(0.0, all - share * both);
  const double error = std::sqrt(unexplained / (count - 2) / steps);
  return share > kSureErrors * error ? std::min(share, kMostShare) : 0;
}

}  // namespace

TimingSpread::TimingSpread(const std::vector<TickSpan>& played,
                           const std::vector<std::int64_t>& meant, const QuantiserTime& time) {
  std::vector<double> errors;
  std::vector<Gap> gaps;
  TempoWalk tempo(time.tempos, time.ppq);
  for (std::size_t i = 0; i < played.size(); ++i) {
    const double ms = tempo.milliseconds_per_tick(played[i].begin);
    errors.push_back(static_cast<double>(played[i].begin - meant[i]) * ms);
    if (i == 0) continue;
    const std::int64_t gap = played[i].begin - played[i - 1].end;
    if (std::abs(gap) >= time.ppq / kJoinParts) continue;
    gaps.push_back(
        {static_cast<double>(meant[i] - meant[i - 1]) * ms, static_cast<double>(gap) * ms});
  }
  if (errors.size() < kFewestMeasured) return;
  const Measured onset = measure(std::move(errors));
  late_ = onset.middle;
  spread_ = std::clamp(onset.spread, kLeastSpread, kMostSpread);
  if (gaps.size() < kFewestMeasured) return;
  // A gap spreads by the onset and by the end; what the onset does not explain is the end's. Nobody
  // ends notes more exactly than they begin them.
  gap_share_ = share_of_steps(gaps);
  std::vector<double> unshared;
  for (const Gap& one : gaps) unshared.push_back(one.gap - gap_share_ * one.step);
  const Measured gap = measure(std::move(unshared));
  gap_ = gap.middle;
  const double rest = gap.spread * gap.spread - onset.spread * onset.spread;
  end_spread_ = std::max(spread_, std::sqrt(std::max(rest, 0.0)));
}

Onset TimingSpread::best_onset(double tick, const std::optional<Joined>& joined,
                               double milliseconds_per_tick) const {
  const double here = tick - late_ / milliseconds_per_tick;
  if (!joined || !end_spread_) return {here, spread_};
  // The end of the note before, moved by the usual gap, was meant for the same moment.
  const double usual = gap_ / milliseconds_per_tick + gap_share_ * joined->step;
  const double by_end = here - joined->gap + usual;
  const double trust = 1 / (spread_ * spread_);
  const double trust_end = 1 / (*end_spread_ * *end_spread_);
  return {(here * trust + by_end * trust_end) / (trust + trust_end),
          1 / std::sqrt(trust + trust_end)};
}

}  // namespace yubifu::midi
