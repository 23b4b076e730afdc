// The one place that knows libsmf: plain events to the bytes of a file, and back.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "midi/smf/events.h"

namespace yubifu::midi {

/// A track to be written: events in order of time, each the status byte and its data, a meta event
/// as FF, type, length, text; without End of Track, which stands at `end`.
struct Track {
  std::vector<Timed<std::string>> events = {};
  std::int64_t end = 0;

  void add(std::int64_t tick, std::string bytes) { events.push_back({tick, std::move(bytes)}); }
};

/// A channel message that was read.
struct ChannelEvent {
  std::int64_t tick = 0;
  std::uint16_t track = 0;
  std::uint8_t status = 0;
  std::uint8_t first = 0;
  std::uint8_t second = 0;

  int channel() const { return status & 0x0F; }  ///< 0 to 15
  int kind() const { return status & 0xF0; }     ///< a Status
};

/// A Standard MIDI File of format 1. `ppq` is 1 to 32767; events are in order and within
/// kMostTicks; a track ends with its last event at the soonest. Events further apart than
/// kMostDelta get empty texts between them. Every track is written: at most 65535, each of less
/// than 2^32 bytes.
std::string to_bytes(const std::vector<Track>& tracks, int ppq);

/// The channel messages of a file that `scan` has made clean, in order of tracks, then of time.
/// Anything libsmf complains of is an error by `unreadable-midi`: after the scan there is nothing.
base::Outcome<std::vector<ChannelEvent>> load(std::string_view clean);

}  // namespace yubifu::midi
