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

namespace yubifu::midi {

/// One beat of the music: a quarter note, or what the meter counts.
struct Beat {
  std::int64_t begin = 0;
  std::int64_t length = 0;
  bool compound = false;  ///< three parts are its first division, as in 6/8
};

/// A bar in ticks; the first one where a stretch of bars of one meter is meant.
struct Bar {
  std::int64_t begin = 0;
  std::int64_t length = 0;  ///< zero for a stretch of free time
  model::Meter meter;
};

/// The stretches between the time signatures of all tracks and our own marks of free time, in
/// order; the last one has no end. Before the first signature there is `otherwise`, or 4/4
/// (SMF 1.1), or where the file has none at all `otherwise` or free time. One that changes nothing
/// and stands on a bar line is left out. Ticks are `ppq` to a quarter note.
std::vector<Bar> meter_spans(const std::vector<Timed<model::Meter>>& meters,
                             std::optional<model::Meter> otherwise, std::int64_t ppq);

/// The time signatures among the meta events, in order.
std::vector<Timed<model::Meter>> meter_list(const std::vector<MetaEvent>& metas);

/// The beat that holds a tick; cut short where a new span begins. The first span begins at 0.
Beat beat_at(const std::vector<Bar>& spans, std::int64_t ppq, std::int64_t tick);

/// More bars than this are not music but a damaged time.
inline constexpr std::size_t kMostBars = 100'000;

/// Bars until the last note is over, from tick 0 on without a gap; there is at least one. A single
/// first bar shorter than those after it is a pickup of their meter, and a single last bar that
/// makes it whole belongs to it. A meter that begins inside a bar cuts that bar short. In free
/// time, where there are no bars, a phrase ends at a rest of a quarter note, or where a note begins
/// on a quarter after sixteen of them, but never under a note unless that lasts for sixty-four.
base::Outcome<std::vector<Bar>> lay_out_bars(const std::vector<Bar>& spans,
                                             const std::vector<TickSpan>& notes, std::int64_t ppq);

/// The index of the bar that holds the tick; of the last one for ticks past the end.
std::size_t bar_at(const std::vector<Bar>& bars, std::int64_t tick);

}  // namespace yubifu::midi
