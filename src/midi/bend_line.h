// How far each channel is bent from its keys, over time.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "midi/events.h"

namespace yubifu::midi {

/// From this tick on, so many cents.
struct BendPoint {
  std::int64_t tick = 0;
  double cents = 0;
};

/// The points of one channel in order, each tick once; before the first there is no bend.
using BendLine = std::vector<BendPoint>;

/// The bends of all sixteen channels, over all tracks: pitch wheel in the range that RPN 0 gives
/// (two semitones before that), fine and coarse tuning (RPN 1 and 2), and the reset of controllers.
/// `events` are in order of tracks, then of time.
std::array<BendLine, 16> bend_lines(const std::vector<ChannelEvent>& events);

/// Walks one line; ticks must be asked for in rising order.
class BendWalk {
 public:
  explicit BendWalk(const BendLine& line) : line_(line) {}

  /// The bend that stands at a tick.
  double at(std::int64_t tick);

  /// The points strictly inside (begin, end), after `at(begin)`.
  std::vector<BendPoint> inside(std::int64_t end) const;

 private:
  const BendLine& line_;
  std::size_t next_ = 0;  ///< the first point after the tick asked for
};

}  // namespace yubifu::midi
