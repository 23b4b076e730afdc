// Played times moved to the divisions of the beat that a player meant.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "midi/read/bars.h"
#include "midi/smf/events.h"

namespace yubifu::midi {

/// Gaps between notes shorter than a quarter note divided by this are no rests (our choice).
inline constexpr int kJoinParts = 4;

/// What the quantiser must know about the time in which the notes lie.
struct QuantiserTime {
  const std::vector<Bar>& meters;
  const std::vector<Timed<std::uint32_t>>& tempos;  ///< microseconds a quarter note
  std::int64_t ppq = 0;                             ///< a multiple of kQuantiserTicks
  std::optional<int> grid;  ///< parts of a quarter note, where asked for; divides `ppq`
};

/// A multiple of all usual divisions of a quarter note and of a dotted one.
inline constexpr std::int64_t kQuantiserTicks = std::int64_t{1024} * 9 * 5 * 7;

/// True when no beat has more than 64 notes: more are no rhythm.
bool can_be_quantised(const std::vector<TickSpan>& played, const QuantiserTime& time);

/// Onsets go to the divisions that explain them with the least sum of error and cost, found over
/// all beats at once; the error counts in the spread that the notes themselves show. Where a note
/// joins the one before, the end of that one is a second measurement of the same moment. Ends go to
/// the next onset where the gap is shorter than a sixteenth, otherwise to the simplest part of the
/// beat that is near. Each note of `played` begins later than the one before; unlike those of the
/// result, which are as many, they may overlap.
std::vector<TickSpan> quantise(const std::vector<TickSpan>& played, const QuantiserTime& time);

/// Only ends are moved, by the same rule: for notes on a grid that are shortened throughout.
std::vector<TickSpan> quantise_ends(const std::vector<TickSpan>& played, const QuantiserTime& time);

}  // namespace yubifu::midi
