// The meters of a file, the beats to which notes are moved, and its bars.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "midi/scan.h"
#include "midi/timed.h"
#include "model/meter.h"

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

  friend bool operator==(const MeterSpan&, const MeterSpan&) = default;
};

/// The time signatures of all tracks and our own marks of free time, in order. Before the first
/// there is `otherwise`, or 4/4 (SMF 1.1), or where the file has none at all `otherwise` or free
/// time. One that changes nothing and stands on a bar line is left out. Ticks are `ppq` to a
/// quarter note.
std::vector<MeterSpan> meter_spans(const std::vector<Timed<model::Meter>>& meters,
                                   std::optional<model::Meter> otherwise, std::int64_t ppq);

/// The time signatures among the meta events, in order.
std::vector<Timed<model::Meter>> meter_list(const std::vector<MetaEvent>& metas);

/// Walks the beats; ticks must be asked for in rising order.
class BeatWalk {
 public:
  /// `spans` must outlive the walk and begin at 0.
  BeatWalk(const std::vector<MeterSpan>& spans, std::int64_t ppq) : spans_(spans), ppq_(ppq) {}

  /// The beat that holds the tick; cut short where a new span begins.
  Beat at(std::int64_t tick);

 private:
  const std::vector<MeterSpan>& spans_;
  std::int64_t ppq_;
  std::size_t span_ = 0;
};

}  // namespace yubifu::midi
