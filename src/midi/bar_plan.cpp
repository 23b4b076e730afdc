#include "midi/bar_plan.h"

#include <optional>

namespace yubifu::midi {
namespace {

using model::Rational;

// The most beats and the finest unit of a meter that this project reads.
constexpr int kMostBeats = 64;
constexpr int kFinestUnit = 128;

// The first bar, also where it is played again.
bool is_pickup(const model::Score& played, const model::Measure& measure) {
  return measure.number == played.measures.front().number && !measure.meter.is_free() &&
         measure.length < measure.meter.length();
}

bool makes_one_bar(const model::Measure& a, const model::Measure& b) {
  return a.meter == b.meter && !a.meter.is_free() && a.length + b.length == a.meter.length();
}

// The meter whose bar has this length, in units no longer than those of the bar's own meter.
std::optional<model::Meter> meter_of_length(Rational length, int unit) {
  for (; unit <= kFinestUnit; unit *= 2) {
    const Rational beats = length * Rational(unit, 4);
    if (!beats.is_whole()) continue;
    if (beats > Rational(kMostBeats)) return std::nullopt;
    return model::Meter{static_cast<int>(beats.numerator()), unit};
  }
  return std::nullopt;
}

}  // namespace

std::vector<SoundingBar> plan_bars(const model::Score& played,
                                   const std::vector<std::size_t>& order, const ScoreClock& clock) {
  std::vector<SoundingBar> bars;
  for (std::size_t i = 0; i < played.measures.size(); ++i) {
    const model::Measure& measure = played.measures[i];
    SoundingBar bar{clock.start(i), clock.start(i + 1),  measure.length,
                    measure.meter,  bar_number(measure), order[i]};
    bar.pickup = is_pickup(played, measure);
    const bool more = i + 1 < played.measures.size() && order[i] != order[i + 1];
    if (more && makes_one_bar(measure, played.measures[i + 1])) {
      bar.pickup = false;
      bar.length = measure.meter.length();
      bar.end = clock.start(++i + 1);
    }
    bars.push_back(bar);
  }
  return bars;
}

std::vector<Timed<model::Meter>> plan_meters(const std::vector<SoundingBar>& bars) {
  std::vector<Timed<model::Meter>> plan;
  Rational since;  // the last time signature
  for (const SoundingBar& bar : bars) {
    model::Meter meter = bar.meter;
    if (!meter.is_free() && bar.length != meter.length()) {
      meter = meter_of_length(bar.length, meter.unit).value_or(meter);
    }
    const bool foreseen = !plan.empty() && plan.back().value == meter &&
                          (meter.is_free() || (since / meter.length()).is_whole());
    if (!foreseen) {
      plan.push_back({bar.begin, meter});
      since = 0;
    }
    if (!meter.is_free()) since += bar.length;
  }
  return plan;
}

}  // namespace yubifu::midi
