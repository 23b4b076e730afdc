// The time of a note in ticks.
#pragma once

#include <cstdint>

namespace yubifu::midi {

/// A note's onset and end in ticks.
struct TickSpan {
  std::int64_t begin = 0;
  std::int64_t end = 0;

  friend bool operator==(const TickSpan&, const TickSpan&) = default;
};

}  // namespace yubifu::midi
