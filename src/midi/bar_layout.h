// The bars of a score that is read from a MIDI file.
#pragma once

#include <cstdint>
#include <vector>

#include "base/diagnostic.h"
#include "midi/meter_map.h"
#include "midi/quarters.h"
#include "midi/timed.h"
#include "model/score.h"

namespace yubifu::midi {

/// More bars than this are not music but a damaged time.
inline constexpr std::size_t kMostBars = 100'000;

/// A bar in ticks.
struct Bar {
  std::int64_t begin = 0;
  std::int64_t length = 0;
  model::Meter meter;
};

/// A place in a score.
struct BarPlace {
  std::size_t measure = 0;
  std::int64_t offset = 0;  ///< ticks from the start of the bar
};

/// Bars that follow one another without a gap, from tick 0; there is at least one.
class BarLayout {
 public:
  explicit BarLayout(std::vector<Bar> bars) : bars_(std::move(bars)) {}

  const std::vector<Bar>& bars() const { return bars_; }
  /// The end of the last bar, in ticks.
  std::int64_t end() const { return bars_.back().begin + bars_.back().length; }

  /// The bar that holds the tick; the last one for ticks past the end.
  BarPlace place(std::int64_t tick) const;

  /// The measures, numbered; the last one ends with the final bar.
  std::vector<model::Measure> measures(Quarters& quarters) const;

 private:
  std::vector<Bar> bars_;
};

/// Bars until the last note is over. A single first bar shorter than those after it is a pickup of
/// their meter, and a single last bar that makes it whole belongs to it. A meter that begins inside
/// a bar cuts that bar short. In free time, where there are no bars, a phrase ends at a rest of a
/// quarter note, or where a note begins on a quarter after sixteen of them, but never under a note
/// unless that lasts for sixty-four.
base::Outcome<BarLayout> lay_out_bars(const std::vector<MeterSpan>& spans,
                                      const std::vector<TickSpan>& notes, std::int64_t ppq);

}  // namespace yubifu::midi
