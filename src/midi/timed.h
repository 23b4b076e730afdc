// A value with the tick it belongs to.
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

}  // namespace yubifu::midi
