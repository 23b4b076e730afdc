// The tempos of a file that was read, and time in seconds turned into musical time.
#pragma once

#include <cstdint>
#include <vector>

#include "midi/events.h"
#include "midi/scan.h"
#include "midi/timed.h"

namespace yubifu::midi {

/// Microseconds a quarter note until a file says otherwise (SMF 1.1: 120 a minute).
inline constexpr std::uint32_t kUsualMicroseconds = 500'000;

/// The tempo events of all tracks in microseconds a quarter note, in order, one a tick (the last
/// one counts) and none that changes nothing. The first stands at tick 0.
std::vector<Timed<std::uint32_t>> tempo_list(const std::vector<MetaEvent>& metas);

/// What a tick is, once all times count in parts of a quarter note.
struct MusicalTime {
  int ppq = 480;
  double slack = 0;  ///< how many ticks a time may be off because it was counted in seconds
};

/// The clock of a file: what its ticks are, and its tempos in microseconds a quarter note.
struct FileClock {
  MusicalTime time;
  std::vector<Timed<std::uint32_t>> tempos;
};

/// Where time is counted in frames of film, moves every tick of the file to the tick of its musical
/// time: so far as the tempo says.
MusicalTime to_musical_time(ScannedFile& file, std::vector<ChannelEvent>& events);

}  // namespace yubifu::midi
