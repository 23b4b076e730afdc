// Plain MIDI events: what stands between the bytes of a file and everything musical.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace yubifu::midi {

/// The longest time in a file: libsmf counts ticks in 31 bits.
inline constexpr std::int64_t kMostTicks = INT32_MAX;

/// The longest time between two events of a track: four bytes of seven bits (SMF 1.1).
inline constexpr std::int64_t kMostDelta = 0x0FFFFFFF;

/// One event to be written: the status byte and its data, a meta event as FF, type, length, text.
struct Event {
  std::int64_t tick = 0;
  std::string bytes;

  friend bool operator==(const Event&, const Event&) = default;
};

/// The events of one track in order of time, without End of Track, which stands at `end`.
struct Track {
  std::vector<Event> events;
  std::int64_t end = 0;
};

/// A channel message that was read.
struct ChannelEvent {
  std::int64_t tick = 0;
  std::uint16_t track = 0;
  std::uint8_t status = 0;
  std::uint8_t first = 0;
  std::uint8_t second = 0;

  int channel() const { return status & 0x0F; }  ///< 0 to 15
  int kind() const { return status & 0xF0; }     ///< the Status of messages.h
};

}  // namespace yubifu::midi
