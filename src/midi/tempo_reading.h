// Tempos of a file as tempos, ramps and fermatas of a score.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "midi/timed.h"
#include "model/score.h"

namespace yubifu::midi {

/// One change of the tempo as it stands in a score, with its tick.
using TempoDirection = Timed<model::DirectionValue>;

/// What the tempos of a file were in the score.
struct ReadTempos {
  std::vector<TempoDirection> directions;
  std::vector<std::size_t> fermatas;  ///< notes, by index
};

/// A tempo that falls to about half while one note lasts, and then is what it was, is a fermata on
/// that note. Three or more steps one way, no two more than two quarters apart and none of more
/// than a quarter of the tempo, are rit or accel; the tempo from before then comes back as a-tempo.
/// Everything else is a tempo, in the unit that `unit_at` gives for its tick. The first direction
/// stands at tick 0.
ReadTempos read_tempos(const std::vector<Timed<std::uint32_t>>& tempos,
                       const std::vector<TickSpan>& notes, std::int64_t ppq,
                       const std::function<model::Rational(std::int64_t)>& unit_at);

/// The simplest number a minute, with at most three decimals, that a file would hold as so many
/// microseconds a quarter note. The unit is doubled while the number is above what a score can say
/// (1000 a minute) and the unit not above two whole notes.
model::Tempo simplest_tempo(std::uint32_t microseconds, model::Rational unit);

}  // namespace yubifu::midi
