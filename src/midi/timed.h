// Values with the ticks they belong to.
#pragma once

#include <cstdint>

namespace yubifu::midi {

/// Something that holds from a tick on, or stands at it.
template <typename T>
struct Timed {
  std::int64_t tick = 0;
  T value{};

  friend bool operator==(const Timed&, const Timed&) = default;
};

/// A note's onset and end in ticks.
struct TickSpan {
  std::int64_t begin = 0;
  std::int64_t end = 0;

  friend bool operator==(const TickSpan&, const TickSpan&) = default;
};

}  // namespace yubifu::midi
