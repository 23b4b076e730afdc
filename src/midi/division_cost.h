// How likely music divides a beat in this way or that. Costs are natural logarithms of odds, so
// that they add up with the squared errors of the notes.
#pragma once

#include <cstddef>
#include <vector>

namespace yubifu::midi {

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

/// A division finer than the usual ones for a beat with so many notes: a power of two, at most
/// kFinestParts.
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

/// What it costs that after the part `from` (-1 at the start of the beat) the next note stands on
/// the part `to` (`parts` at its end): passing over a stronger part is a syncopation, and a triplet
/// is seldom without one of its notes.
double step_cost(int parts, int from, int to);

}  // namespace yubifu::midi
