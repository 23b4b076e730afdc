// When the notes of a file begin and end: as it says, or as they were meant by a person who played
// them, late perhaps, and perhaps not by the clock of the file.
#pragma once

#include <cstdint>
#include <vector>

#include "base/diagnostic.h"
#include "midi/meter_map.h"
#include "midi/reader.h"
#include "midi/tempo_list.h"
#include "midi/tick_map.h"
#include "midi/timed.h"

namespace yubifu::midi {

/// How the times of a file are read.
enum class TimeReading {
  meant,           ///< to the tick: our own file, which nobody has changed
  exact,           ///< onsets and ends say what they mean, but for what the ticks had to round
  ends_quantised,  ///< onsets do, ends do not
  quantised,       ///< played by a person
  too_dense,       ///< played too densely for any rhythm, and left as it is
};

/// The notes and the clock of a file, in its ticks.
struct RawTimes {
  std::vector<TickSpan> notes;  ///< in order, each beginning later than the one before
  FileClock clock;
  std::vector<Timed<model::Meter>> meters;
  bool meant = false;  ///< our own file, which nobody has changed
};

/// The same on the line of the score, in fine ticks.
struct NoteTimes {
  std::vector<TickSpan> notes;  ///< without overlaps
  std::vector<Timed<std::uint32_t>> tempos;
  std::vector<MeterSpan> meters;
  std::int64_t fine_ppq = 0;
  TickMap place{1};  ///< of everything else
  TimeReading reading = TimeReading::exact;
  bool retimed = false;         ///< bars and tempos follow the playing
  base::Diagnostics told;       ///< about lateness and tempo
  double largest_shift = 0;     ///< of an onset, in milliseconds,
  std::int64_t shifted_to = 0;  ///< and where it went
};

/// A constant lateness is taken away first; it is found, or that of the options. Where the clock of
/// the file explains the onsets clearly worse than another tempo, or a tempo is asked for, bars and
/// tempos are made by what was played, whose real time stays. Then onsets on a grid are kept, where
/// nine tenths of the quarter notes with onsets divide into at most sixteen equal parts at which
/// they stand, parts of at least four ticks; others are quantised. Fails where a lateness that was
/// asked for would put the first note before the start.
base::Outcome<NoteTimes> read_times(const RawTimes& raw, const MidiReadOptions& options);

}  // namespace yubifu::midi
