// How long a tick lasts, along a file.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "midi/timed.h"

namespace yubifu::midi {

/// Walks the tempos, microseconds a quarter note, to which it refers; ticks must be asked for in
/// rising order.
class TempoWalk {
 public:
  TempoWalk(const std::vector<Timed<std::uint32_t>>& tempos, std::int64_t ppq)
      : tempos_(tempos), ppq_(ppq) {}

  double milliseconds_per_tick(std::int64_t tick) {
    constexpr double kMicrosecondsPerMillisecond = 1000;
    while (at_ + 1 < tempos_.size() && tempos_[at_ + 1].tick <= tick) ++at_;
    return tempos_[at_].value / kMicrosecondsPerMillisecond / static_cast<double>(ppq_);
  }

 private:
  const std::vector<Timed<std::uint32_t>>& tempos_;
  std::int64_t ppq_;
  std::size_t at_ = 0;
};

}  // namespace yubifu::midi
