#include "midi/division_cost.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace yubifu::midi {
namespace {

constexpr double kSyncopation = 0.9;
constexpr double kNoNoteOnBeat = 1;
constexpr double kTripletGap = 0.8;
constexpr double kCrowdedCost = 14;

// The share of triplets that the costs below take for granted, the number of beats that they weigh
// against those of a piece, and how far a piece can move them.
constexpr double kUsualShare = 0.15;
constexpr double kHabitBeats = 8;
constexpr double kMostHabit = 2;

bool is_power_of_two(int value) {
  return (value & (value - 1)) == 0;
}

// How strong a part of a binary division is: 0 for the weakest.
int strength(int part) {
  return std::countr_zero(static_cast<unsigned>(part));
}

}  // namespace

const std::vector<BeatDivision>& usual_divisions(bool compound) {
  using enum DivisionKind;
  static const std::vector<BeatDivision> simple_time{
      {1, 0, undivided}, {2, 0.8, binary},  {3, 2, ternary},  {4, 1.7, binary}, {6, 7, ternary},
      {8, 6, binary},    {5, 8, other},     {12, 9, ternary}, {16, 8, binary},  {7, 9, other},
      {9, 10, ternary},  {24, 12, ternary}, {32, 12, binary}};
  static const std::vector<BeatDivision> compound_time{
      {1, 0, undivided}, {3, 0.8, ternary},  {2, 3.5, binary}, {6, 1.6, ternary},
      {4, 5, binary},    {12, 4.5, ternary}, {8, 8, binary},   {5, 9, other},
      {9, 7, ternary},   {24, 8, ternary},   {16, 10, binary}, {7, 10, other}};
  return compound ? compound_time : simple_time;
}

BeatDivision crowded_division(std::size_t notes) {
  const std::size_t parts = std::bit_ceil(std::max<std::size_t>(32, notes + notes / 2));
  return {static_cast<int>(std::min<std::size_t>(parts, kFinestParts)), kCrowdedCost,
          DivisionKind::binary};
}

double habit_cost(const DivisionHabit& habit, DivisionKind kind) {
  if (kind != habit.kind) return 0;
  const double share = (static_cast<double>(habit.beats) + kUsualShare * kHabitBeats) /
                       (static_cast<double>(habit.divided) + kHabitBeats);
  return std::clamp(std::log(kUsualShare / share), -kMostHabit, kMostHabit);
}

double change_cost(DivisionKind from, DivisionKind to) {
  const bool free = from == DivisionKind::undivided || to == DivisionKind::undivided;
  return free || from == to ? 0 : kMostChange;
}

double step_cost(int parts, int from, int to) {
  if (from < 0) return to == 0 || to == parts ? 0 : kNoNoteOnBeat + step_cost(parts, 0, to);
  if (parts == 3) return kTripletGap * (to - from - 1);
  if (!is_power_of_two(parts) || from == 0) return 0;
  const int stronger = from + (1 << strength(from));
  return stronger < parts && to > stronger ? kSyncopation : 0;
}

}  // namespace yubifu::midi
