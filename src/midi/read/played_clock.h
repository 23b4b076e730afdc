// The clock by which a melody was played, where its file has another, and how late its notes come.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "midi/read/tempos.h"
#include "midi/smf/events.h"

namespace yubifu::midi {

/// Whether the onsets sit on a grid of their own.
enum class OnsetGrid { none, fine };

/// By how many ticks every note comes late (early where negative): zero where nothing speaks for
/// it. On the eighths or triplets of the quarter note it is music and no lateness. On a grid it
/// must be exact, so that what it leaves is a simpler one; otherwise the notes as played tell it.
std::int64_t constant_lateness(const std::vector<TickSpan>& notes, const FileClock& clock,
                               OnsetGrid grid);

/// What is known of the beats before they are looked for.
struct Pulse {
  bool compound = false;        ///< three parts are the first division of a beat
  double quarters = 1;          ///< the length of a beat
  std::optional<double> asked;  ///< beats a minute, give or take some per cent
};

/// Where a beat was played.
struct PlayedBeat {
  double tick = 0;  ///< of the file, not rounded
  double milliseconds = 0;
};

/// The beats that the notes show, rising. The first note lies in the first beat or before it, the
/// last before the last one; there are two beats at least. They follow a tempo that drifts. Nothing
/// where the clock of the file explains the notes nearly as well, or where there are too few notes
/// to tell, all coming `late` by so many ticks; where a tempo is asked for, always its beats.
std::optional<std::vector<PlayedBeat>> played_beats(const std::vector<TickSpan>& notes,
                                                    const FileClock& clock, const Pulse& pulse,
                                                    std::int64_t late);

/// The same for notes whose places are known, in beats, rising, one a note: a steady clock through
/// them, which gives way to a tempo that drifts but not to a single note.
std::vector<PlayedBeat> beats_through(const std::vector<double>& places,
                                      const std::vector<TickSpan>& notes, const FileClock& clock);

}  // namespace yubifu::midi
