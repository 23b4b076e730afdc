// The meters, beats and bars of a file that is read.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "base/diagnostic.h"
#include "midi/smf/events.h"
#include "midi/smf/scan.h"
#include "model/meter.h"
#include "model/score.h"

namespace yubifu::midi {

/// One beat of the music: a quarter note, or what the meter counts.
struct Beat {
  std::int64_t begin = 0;
  std::int64_t length = 0;
  bool compound = false;  ///< three parts are its first division, as in 6/8
};

/// A stretch of the music with bars of one meter, or one free stretch. The last one has no end.
struct MeterSpan {
  std::int64_t begin = 0;
  std::int64_t bar_ticks = 0;  ///< zero in free time
  model::Meter meter;
};

/// The time signatures of all tracks and our own marks of free time, in order. Before the first
/// there is `otherwise`, or 4/4 (SMF 1.1), or where the file has none at all `otherwise` or free
/// time. One that changes nothing and stands on a bar line is left out. Ticks are `ppq` to a
/// quarter note.
std::vector<MeterSpan> meter_spans(const std::vector<Timed<model::Meter>>& meters,
                                   std::optional<model::Meter> otherwise, std::int64_t ppq);

/// The time signatures among the meta events, in order.
std::vector<Timed<model::Meter>> meter_list(const std::vector<MetaEvent>& metas);

/// The beat that holds a tick; cut short where a new span begins. The first span begins at 0.
Beat beat_at(const std::vector<MeterSpan>& spans, std::int64_t ppq, std::int64_t tick);

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
  std::vector<model::Measure> measures(std::int64_t ppq) const;

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
