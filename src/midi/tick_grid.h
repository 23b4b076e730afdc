// How many ticks a quarter note gets in a written file.
#pragma once

#include <cstdint>
#include <optional>

#include "model/rational.h"
#include "model/score.h"

namespace yubifu::midi {

/// Ticks a quarter note where nothing finer is needed.
inline constexpr int kFewestTicks = 480;
inline constexpr int kMostTicksPerQuarter = 32767;  ///< fifteen bits (SMF 1.1)

/// `exact` when every onset, end and bar of the score falls on a whole tick.
struct TickGrid {
  int ppq = kFewestTicks;
  bool exact = true;
};

/// A time in ticks; one between two ticks goes to the nearest. Throws model::TimeOverflow.
std::int64_t to_ticks(model::Rational time, int ppq);

/// True when the time falls on a whole tick.
bool is_on_tick(model::Rational time, int ppq);

/// The least grid of 480 to 32767 ticks that holds every time of the score, grace notes included
/// where they fit. Without one, a fine grid that holds the commonest divisions. `asked` decides
/// instead where it is given.
TickGrid choose_grid(const model::Score& score, std::optional<int> asked);

/// What one grace note of this note takes from it: an eighth of a quarter, less where all of them
/// together would take more than half. The note has at least one.
model::Rational grace_length(const model::Note& note);

}  // namespace yubifu::midi
