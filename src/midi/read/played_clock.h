// The clock by which a melody was played, where that is not the clock of its file.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "midi/read/tempos.h"
#include "midi/smf/events.h"

namespace yubifu::midi {

/// A place of the beat, 0 to below 1, and how many notes begin there in one beat: what tells a
/// clock that explains a melody from one that does not. Our choice, from invented tunes.
struct BeatPlace {
  double at = 0;
  double rate = 0;
};
using BeatPlaces = std::vector<BeatPlace>;

/// Those of an ordinary melody, in simple or in compound time.
const BeatPlaces& usual_places(bool compound);

/// The ways to divide the beats of a steady clock: in halves, in thirds, and with the swing of a
/// second half that comes late.
const std::vector<BeatPlaces>& feels();

/// The standard deviation of an onset that an ordinary player plays, in milliseconds.
inline constexpr double kUsualSpread = 20;
/// More standard deviations than this are no chance.
inline constexpr double kSure = 3;
/// So many notes tell a clock; more would only take time.
inline constexpr std::size_t kJudgedNotes = 1000;
/// How many notes a millisecond begin `at` so many beats, of so many milliseconds each, when they
/// spread by that variance in square milliseconds.
double onset_density(const BeatPlaces& places, double at, double milliseconds, double variance);

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
