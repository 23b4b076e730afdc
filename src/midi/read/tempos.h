// The tempos of a file that was read, in real time and as those of a score.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "midi/smf/events.h"
#include "midi/smf/scan.h"
#include "midi/smf/smf_bridge.h"
#include "model/score.h"

namespace yubifu::midi {

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

/// Where time is counted in frames of film, moves every tick of the file as far as the tempo says.
MusicalTime to_musical_time(ScannedFile& file, std::vector<ChannelEvent>& events);

/// How long a tick lasts at a place, under tempos in microseconds a quarter note.
double milliseconds_per_tick(const std::vector<Timed<std::uint32_t>>& tempos, std::int64_t ppq,
                             std::int64_t tick);

/// What the tempos of a file were in the score.
struct ReadTempos {
  std::vector<Timed<model::DirectionValue>> directions;  ///< changes, with their ticks
  std::vector<std::size_t> fermatas;                     ///< notes, by index
};

/// A tempo that falls to about half while one note lasts, and then is what it was, is a fermata on
/// that note. Three or more steps one way, no two more than two quarters apart and none of more
/// than a quarter of the tempo, are rit or accel; the tempo from before then comes back as a-tempo.
/// Everything else is a tempo, in the unit that `unit_at` gives for its tick; the first is at 0.
ReadTempos read_tempos(const std::vector<Timed<std::uint32_t>>& tempos,
                       const std::vector<TickSpan>& notes, std::int64_t ppq,
                       const std::function<model::Rational(std::int64_t)>& unit_at);

/// The simplest number a minute, with at most three decimals, that a file would hold as so many
/// microseconds a quarter note. The unit is doubled while the number is above what a score can say
/// (1000 a minute) and the unit not above two whole notes.
model::Tempo simplest_tempo(std::uint32_t microseconds, model::Rational unit);

}  // namespace yubifu::midi
