#include "midi/read/beat_fit.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

#include "base/numbers.h"

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

// How strong a part of a binary division is: 0 for the weakest.
int strength(int part) {
  return std::countr_zero(static_cast<unsigned>(part));
}

constexpr double kNever = std::numeric_limits<double>::infinity();

// A slip costs no more than its distance: one wrong note must not bend the rest.
constexpr double kSlip = 3;  // standard deviations

// Beyond this, parts are so fine that their strength means nothing.
constexpr int kFinestStructured = 32;

double error_cost(const PlayedOnset& note, double at) {
  const double error = std::abs(note.at - at) / note.spread;
  return error < kSlip ? error * error / 2 : kSlip * (error - kSlip / 2);
}

// What it costs that after the part `from` (-1 at the start of the beat) the next note stands on
// the part `to` (`parts` at its end): passing over a stronger part is a syncopation, and a triplet
// is seldom without one of its notes.
double step_cost(int parts, int from, int to) {
  if (from < 0) return to == 0 || to == parts ? 0 : kNoNoteOnBeat + step_cost(parts, 0, to);
  if (parts == 3) return kTripletGap * (to - from - 1);
  if (!base::is_power_of_two(parts) || from == 0) return 0;
  const int stronger = from + (1 << strength(from));
  return stronger < parts && to > stronger ? kSyncopation : 0;
}

// step_cost of every two parts of a division of at most kFinestStructured, from -1 on row by row:
// looked up instead of found out again and again.
const std::vector<double>& step_costs(int parts) {
  static const std::vector<std::vector<double>> all = [] {
    std::vector<std::vector<double>> list(kFinestStructured + 1);
    for (int count = 0; count <= kFinestStructured; ++count) {
      for (int from = -1; from < count; ++from) {
        for (int to = 0; to <= count; ++to) {
          list[static_cast<std::size_t>(count)].push_back(from < to ? step_cost(count, from, to)
                                                                    : kNever);
        }
      }
    }
    return list;
  }();
  return all[static_cast<std::size_t>(parts)];
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

double least_cost(const std::vector<PlayedOnset>& notes, int parts) {
  double cost = 0;
  for (const PlayedOnset& note : notes) {
    const double nearest = std::clamp(std::round(note.at * parts), 0.0, parts - 1.0);
    cost += error_cost(note, nearest / parts);
  }
  return cost;
}

BeatFit fit_beat(const std::vector<PlayedOnset>& notes, int parts) {
  if (notes.empty()) return {};
  const std::vector<double>* steps = parts <= kFinestStructured ? &step_costs(parts) : nullptr;
  const auto step = [&](int from, int to) {
    const int index = (from + 1) * (parts + 1) + to;
    return steps ? (*steps)[static_cast<std::size_t>(index)] : 0;
  };
  const auto error = [&](std::size_t note, int part) {
    return error_cost(notes[note], static_cast<double>(part) / parts);
  };
  // For each note n and part k the least cost of the notes up to n with note n on part k, and the
  // part of note n - 1 then.
  struct Entry {
    double cost = kNever;
    int from = 0;
  };
  std::vector<Entry> table(notes.size() * static_cast<std::size_t>(parts));
  const auto at = [&](std::size_t note, int part) -> Entry& {
    return table[note * static_cast<std::size_t>(parts) + static_cast<std::size_t>(part)];
  };
  for (int k = 0; k < parts; ++k) at(0, k).cost = step(-1, k) + error(0, k);
  for (std::size_t n = 1; n < notes.size(); ++n) {
    Entry best;
    for (int to = static_cast<int>(n); to < parts; ++to) {
      // Where steps cost nothing, what was best for the part before may still be.
      if (steps != nullptr) best = {};
      for (int before = steps != nullptr ? static_cast<int>(n) - 1 : to - 1; before < to;
           ++before) {
        const double cost = at(n - 1, before).cost + step(before, to);
        if (cost < best.cost) best = {cost, before};
      }
      at(n, to) = {best.cost + error(n, to), best.from};
    }
  }
  BeatFit fit{kNever, std::vector<int>(notes.size())};
  for (int k = 0; k < parts; ++k) {
    const double cost = at(notes.size() - 1, k).cost + step(k, parts);
    if (cost >= fit.cost) continue;
    fit.cost = cost;
    fit.parts.back() = k;
  }
  for (std::size_t n = notes.size(); n-- > 1;) fit.parts[n - 1] = at(n, fit.parts[n]).from;
  return fit;
}

}  // namespace yubifu::midi
