// Notes fitted to the divisions of one beat, and what each division costs.
#pragma once

#include <cstddef>
#include <vector>

namespace yubifu::midi {

// How likely music divides a beat in this way or that. Costs are natural logarithms of odds, so
// that they add up with the squared errors of the notes.

/// Divisions of one kind like to follow each other.
enum class DivisionKind { undivided, binary, ternary, other };

/// A way to divide a beat into equal parts.
struct BeatDivision {
  int parts = 1;
  double cost = 0;
  DivisionKind kind = DivisionKind::undivided;
};

/// The divisions tried for a beat, simplest first. In compound time a beat has three parts by
/// nature, otherwise two.
const std::vector<BeatDivision>& usual_divisions(bool compound);

/// No beat is divided into more parts.
inline constexpr int kFinestParts = 128;

/// One finer than the usual ones for a beat with so many notes: a power of two up to kFinestParts.
BeatDivision crowded_division(std::size_t notes);

/// What a piece shows of itself: how many of its divided beats have parts of this kind.
struct DivisionHabit {
  DivisionKind kind = DivisionKind::ternary;
  std::size_t beats = 0;    ///< of this kind
  std::size_t divided = 0;  ///< of any kind
};

/// What a division costs more (or less) in a piece with that habit; nothing for other kinds.
double habit_cost(const DivisionHabit& habit, DivisionKind kind);

/// The most that a change of division costs.
inline constexpr double kMostChange = 0.4;

/// What it costs that the kind of division changes: nothing or kMostChange.
double change_cost(DivisionKind from, DivisionKind to);

/// Where a note was played, in parts of its beat, and how sure that is.
struct PlayedOnset {
  double at = 0;      ///< in beats from the beat's start
  double spread = 0;  ///< standard deviation in beats
};

/// The parts at which the notes stand, and the sum of what that costs.
struct BeatFit {
  double cost = 0;
  std::vector<int> parts;  ///< rising; empty when the beat has no notes
};

/// What fit_beat costs at the least: that of the errors when each note stands on its nearest part.
double least_cost(const std::vector<PlayedOnset>& notes, int parts);

/// Puts the notes on rising parts of the division at the least cost: errors and steps, the cost of
/// the division itself not included. There are at most as many notes as parts.
BeatFit fit_beat(const std::vector<PlayedOnset>& notes, int parts);

}  // namespace yubifu::midi
