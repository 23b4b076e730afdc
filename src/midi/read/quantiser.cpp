#include "midi/read/quantiser.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numeric>
#include <utility>

#include "base/numbers.h"
#include "midi/read/player_timing.h"
#include "midi/read/tempos.h"

namespace yubifu::midi {
namespace {

// How likely music divides a beat in this way or that. Costs are natural logarithms of odds, so
// that they add up with the squared errors of the notes.

constexpr double kSyncopation = 0.9;
constexpr double kNoNoteOnBeat = 1;
constexpr double kTripletGap = 0.8;
constexpr double kCrowdedCost = 14;
constexpr double kMostChange = 0.4;    // when the kind of division changes
constexpr int kFinestParts = 128;      // no beat is divided into more,
constexpr int kFinestStructured = 32;  // and the strength of finer ones means nothing

// The share of triplets that the costs below take for granted, the number of beats that they weigh
// against those of a piece, and how far a piece can move them.
constexpr double kUsualShare = 0.15;
constexpr double kHabitBeats = 8;
constexpr double kMostHabit = 2;

// A slip costs no more than its distance: one wrong note must not bend the rest.
constexpr double kSlip = 3;  // standard deviations

constexpr double kNever = std::numeric_limits<double>::infinity();

// Divisions of one kind like to follow each other.
enum class DivisionKind { undivided, binary, ternary, other };

// A way to divide a beat into equal parts.
struct BeatDivision {
  int parts = 1;
  double cost = 0;
  DivisionKind kind = DivisionKind::undivided;
};

// What divisions of a kind cost more (or less) in a piece, because of how often it has them.
struct DivisionHabit {
  DivisionKind kind = DivisionKind::ternary;
  double cost = 0;
};

// Where a note was played and how sure that is (a standard deviation), in beats from the beat's
// start.
struct PlayedOnset {
  double at = 0;
  double spread = 0;
};

// The rising parts at which the notes stand, and the sum of what that costs.
struct BeatFit {
  double cost = 0;
  std::vector<int> parts;
};

// The divisions tried for a beat, simplest first. In compound time a beat has three parts by
// nature, otherwise two.
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

// What it costs that after the part `from` (-1 at the start of the beat) the next note stands on
// the part `to` (`parts` at its end): passing over a stronger part is a syncopation, and a triplet
// is seldom without one of its notes.
double step_cost(int parts, int from, int to) {
  if (from < 0) return to == 0 || to == parts ? 0 : kNoNoteOnBeat + step_cost(parts, 0, to);
  if (parts == 3) return kTripletGap * (to - from - 1);
  if (!base::is_power_of_two(parts) || from == 0) return 0;
  const int stronger = from + (1 << std::countr_zero(static_cast<unsigned>(from)));
  return stronger < parts && to > stronger ? kSyncopation : 0;
}

double error_cost(const PlayedOnset& note, double at) {
  const double error = std::abs(note.at - at) / note.spread;
  return error < kSlip ? error * error / 2 : kSlip * (error - kSlip / 2);
}

// What fit_beat costs at the least: that of the errors when each note stands on its nearest part.
double least_cost(const std::vector<PlayedOnset>& notes, int parts) {
  double cost = 0;
  for (const PlayedOnset& note : notes) {
    const double nearest = std::clamp(std::round(note.at * parts), 0.0, parts - 1.0);
    cost += error_cost(note, nearest / parts);
  }
  return cost;
}

// Puts the notes, at most as many as parts, on rising parts of the division at the least cost:
// errors and steps, the cost of the division itself not included.
BeatFit fit_beat(const std::vector<PlayedOnset>& notes, int parts) {
  if (notes.empty()) return {};
  const bool structured = parts <= kFinestStructured;
  const auto step = [&](int from, int to) { return structured ? step_cost(parts, from, to) : 0; };
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
      if (structured) best = {};
      for (int before = structured ? static_cast<int>(n) - 1 : to - 1; before < to; ++before) {
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

constexpr double kReach = 0.3;              // of a beat: how far a note may stand from its own beat
constexpr std::size_t kMostOver = 2;        // notes that may change the beat at one boundary
constexpr int kEndParts = 4;                // of a beat: where the end of a note may stand
constexpr double kEndReach = 0.2;           // of a beat: how far a simpler end may lie
constexpr double kMostShortened = 1.0 / 4;  // of a note, for the sake of a simpler end,
constexpr double kMostLengthened = 1.0 / 5;  // or of a long one
constexpr double kFinerGrid = 30;            // the cost of going under a grid that was asked for

// The parts of a beat on the grid that was asked for; twice as many where a dotted quarter has no
// whole number of them.
int grid_parts(const Beat& beat, const QuantiserTime& time) {
  const std::int64_t asked = beat.length * *time.grid;
  const std::int64_t parts = asked % time.ppq == 0 ? asked / time.ppq : 2 * asked / time.ppq;
  return static_cast<int>(std::max<std::int64_t>(1, parts));
}

// A beat with notes, or beside one.
struct ActiveBeat {
  Beat beat;
  double milliseconds = 0;  ///< of the whole beat
};

std::vector<ActiveBeat> active_beats(const std::vector<TickSpan>& played,
                                     const QuantiserTime& time) {
  std::vector<ActiveBeat> beats;
  const auto add = [&](std::int64_t tick) {
    const Beat beat = beat_at(time.meters, time.ppq, tick);
    if (!beats.empty() && beats.back().beat.begin >= beat.begin) return;
    beats.push_back({beat, milliseconds_per_tick(time.tempos, time.ppq, beat.begin) *
                               static_cast<double>(beat.length)});
  };
  for (const TickSpan& note : played) {
    const Beat beat = beat_at(time.meters, time.ppq, note.begin);
    if (beat.begin > 0) add(beat.begin - 1);
    add(beat.begin);
    add(beat.begin + beat.length);
  }
  return beats;
}

// The best way so far to have placed the first `notes` notes, the last divided beat being of
// `kind`.
struct State {
  std::size_t notes = 0;
  DivisionKind kind = DivisionKind::undivided;
  double cost = 0;
  std::size_t before = 0;  ///< index of the state at the boundary before
  int parts = 1;           ///< how the beat before this boundary is divided
};

class Solver {
 public:
  Solver(const std::vector<TickSpan>& played, const QuantiserTime& time,
         const std::vector<ActiveBeat>& beats)
      : played_(played), time_(time), beats_(beats) {}

  // The onsets, and for each active beat its division.
  struct Solution {
    std::vector<std::int64_t> onsets;
    std::vector<int> parts;
  };

  // `meant` are the onsets as far as they are known.
  Solution solve(const TimingSpread& spread, const DivisionHabit& habit,
                 const std::vector<std::int64_t>& meant) {
    habit_ = habit;
    measure(spread, meant);
    std::vector<std::vector<State>> boundaries{{State{}}};
    for (std::size_t b = 0; b < beats_.size(); ++b) {
      boundaries.push_back(after_beat(b, boundaries.back()));
    }
    return trace(boundaries);
  }

 private:
  // Every onset in ticks and how sure it is, in milliseconds.
  void measure(const TimingSpread& spread, const std::vector<std::int64_t>& meant) {
    onsets_.clear();
    for (std::size_t i = 0; i < played_.size(); ++i) {
      const double ms = milliseconds_per_tick(time_.tempos, time_.ppq, played_[i].begin);
      const std::int64_t gap = i == 0 ? 0 : played_[i].begin - played_[i - 1].end;
      std::optional<TimingSpread::Joined> joined;
      if (i > 0 && std::abs(gap) < time_.ppq / kJoinParts) {
        joined = {static_cast<double>(gap), static_cast<double>(meant[i] - meant[i - 1])};
      }
      onsets_.push_back(spread.best_onset(static_cast<double>(played_[i].begin), joined, ms));
      // Two guesses may cross where the played times did not.
      if (i > 0) onsets_[i].tick = std::max(onsets_[i].tick, onsets_[i - 1].tick);
    }
  }

  // How many notes may lie before boundary `b`, at least and at most.
  std::pair<std::size_t, std::size_t> notes_before(std::size_t b) const {
    if (b == beats_.size()) return {onsets_.size(), onsets_.size()};
    const double reach = kReach * static_cast<double>(beats_[b].beat.length);
    const auto count = [&](double tick) {
      const auto found =
          std::lower_bound(onsets_.begin(), onsets_.end(), tick,
                           [](const Onset& onset, double t) { return onset.tick < t; });
      return static_cast<std::size_t>(found - onsets_.begin());
    };
    const auto boundary = static_cast<double>(beats_[b].beat.begin);
    const std::size_t middle = count(boundary);
    const std::size_t floor = middle < kMostOver ? 0 : middle - kMostOver;
    return {std::max(count(boundary - reach), floor),
            std::min(count(boundary + reach), middle + kMostOver)};
  }

  std::vector<BeatDivision> divisions(const ActiveBeat& active, std::size_t notes) const {
    std::vector<BeatDivision> list;
    if (time_.grid) {
      double cost = 0;
      for (int finer = 1; finer <= kFinestParts; finer *= 2, cost += kFinerGrid) {
        list.push_back({grid_parts(active.beat, time_) * finer, cost, DivisionKind::undivided});
      }
    } else {
      list = usual_divisions(active.beat.compound);
      if (notes > 8) {
        // Finer than the usual ones: a power of two.
        const std::size_t parts = std::bit_ceil(std::max<std::size_t>(32, notes + notes / 2));
        list.push_back({static_cast<int>(std::min<std::size_t>(parts, kFinestParts)), kCrowdedCost,
                        DivisionKind::binary});
      }
    }
    std::erase_if(list, [&](const BeatDivision& division) {
      return static_cast<std::size_t>(division.parts) < notes;
    });
    if (notes == 0 || time_.grid) list.resize(1);
    return list;
  }

  // The notes [first, last) as they lie in beat `b`.
  std::vector<PlayedOnset> notes_in(std::size_t b, std::size_t first, std::size_t last) const {
    const ActiveBeat& active = beats_[b];
    std::vector<PlayedOnset> notes;
    notes.reserve(last - first);
    const auto length = static_cast<double>(active.beat.length);
    for (std::size_t i = first; i < last; ++i) {
      notes.push_back({(onsets_[i].tick - static_cast<double>(active.beat.begin)) / length,
                       onsets_[i].spread / active.milliseconds});
    }
    return notes;
  }

  std::vector<State> after_beat(std::size_t b, const std::vector<State>& from) const {
    std::vector<State> to;
    const auto [fewest, most] = notes_before(b + 1);
    std::size_t s = 0;
    while (s < from.size()) {
      // States with the same notes differ in the kind only, and share every fit.
      std::size_t end = s;
      double cheapest = from[s].cost;
      for (; end < from.size() && from[end].notes == from[s].notes; ++end) {
        cheapest = std::min(cheapest, from[end].cost);
      }
      const std::size_t first = from[s].notes;
      for (std::size_t last = std::max(first, fewest); last <= most; ++last) {
        const std::vector<PlayedOnset> notes = notes_in(b, first, last);
        for (const BeatDivision& division : divisions(beats_[b], last - first)) {
          const double fixed = division.cost + (division.kind == habit_.kind ? habit_.cost : 0);
          if (cannot_win(to, last, cheapest + fixed + least_cost(notes, division.parts))) continue;
          const double cost = fixed + fit_beat(notes, division.parts).cost;
          for (std::size_t i = s; i < end; ++i) {
            const DivisionKind kind =
                division.kind == DivisionKind::undivided ? from[i].kind : division.kind;
            const bool changes = from[i].kind != DivisionKind::undivided && from[i].kind != kind;
            const double change = changes ? kMostChange : 0;
            keep_best(to, {last, kind, from[i].cost + cost + change, i, division.parts});
          }
        }
      }
      s = end;
    }
    std::stable_sort(to.begin(), to.end(),
                     [](const State& a, const State& c) { return a.notes < c.notes; });
    return to;
  }

  // The kind of a state makes later beats dearer by kMostChange at most: what costs more than that
  // over another state of the same notes is no part of the best way.
  static bool cannot_win(const std::vector<State>& states, std::size_t notes, double cost) {
    return std::any_of(states.begin(), states.end(), [&](const State& known) {
      return known.notes == notes && known.cost + kMostChange < cost;
    });
  }

  static void keep_best(std::vector<State>& states, const State& state) {
    for (State& known : states) {
      if (known.notes != state.notes || known.kind != state.kind) continue;
      if (state.cost < known.cost) known = state;
      return;
    }
    if (!cannot_win(states, state.notes, state.cost)) states.push_back(state);
  }

  Solution trace(const std::vector<std::vector<State>>& boundaries) const {
    Solution solution{std::vector<std::int64_t>(onsets_.size()), std::vector<int>(beats_.size())};
    const std::vector<State>& ends = boundaries.back();
    auto at = static_cast<std::size_t>(
        std::min_element(ends.begin(), ends.end(),
                         [](const State& a, const State& b) { return a.cost < b.cost; }) -
        ends.begin());
    for (std::size_t b = beats_.size(); b-- > 0;) {
      const State& state = boundaries[b + 1][at];
      const std::size_t first = boundaries[b][state.before].notes;
      const std::vector<int> parts = fit_beat(notes_in(b, first, state.notes), state.parts).parts;
      const Beat& beat = beats_[b].beat;
      for (std::size_t i = 0; i < parts.size(); ++i) {
        solution.onsets[first + i] = beat.begin + parts[i] * beat.length / state.parts;
      }
      solution.parts[b] = state.parts;
      at = state.before;
    }
    return solution;
  }

  const std::vector<TickSpan>& played_;
  const QuantiserTime& time_;
  const std::vector<ActiveBeat>& beats_;
  std::vector<Onset> onsets_;
  DivisionHabit habit_;
};

// Of the way to divide beats that is the unusual one for most of them.
DivisionHabit habit_of(const std::vector<ActiveBeat>& beats, const std::vector<int>& parts) {
  const auto compound = std::count_if(
      beats.begin(), beats.end(), [](const ActiveBeat& active) { return active.beat.compound; });
  const bool in_three = static_cast<std::size_t>(compound) * 2 > beats.size();
  double divided = 0;
  double unusual = 0;
  for (const int count : parts) {
    if (count == 1) continue;
    ++divided;
    if ((count % 3 == 0) != in_three) ++unusual;
  }
  const double share = (unusual + kUsualShare * kHabitBeats) / (divided + kHabitBeats);
  return {in_three ? DivisionKind::binary : DivisionKind::ternary,
          std::clamp(std::log(kUsualShare / share), -kMostHabit, kMostHabit)};
}

std::vector<std::int64_t> begins_of(const std::vector<TickSpan>& notes) {
  std::vector<std::int64_t> begins;
  for (const TickSpan& note : notes) begins.push_back(note.begin);
  return begins;
}

// Where the ends of notes may stand in a beat whose onsets divide it into `parts`, the simplest
// first; the last division has a place for every end.
std::vector<int> end_divisions(int parts, bool compound) {
  if (compound && parts <= 3) return {1, parts == 2 ? 6 : 3};
  if (parts <= 2) return {1, 2, kEndParts};
  return {1, parts % 2 == 0 ? std::max(parts, kEndParts) : parts};
}

// Players let go of notes early, so that what is left of the beat is no rest; they hardly hold one
// for much longer than it is written.
bool is_near(std::int64_t length, std::int64_t shift, const Beat& beat) {
  const auto held = static_cast<double>(length);
  const auto moved = static_cast<double>(std::abs(shift));
  const double reach = kEndReach * static_cast<double>(beat.length);
  if (shift < 0) return moved <= std::min(reach, kMostShortened * held);
  return moved <= std::max(reach, kMostLengthened * held);
}

// The notes with these onsets and the ends that were meant. `parts_of` gives the division of a beat
// and is called in order.
template <typename PartsOf>
std::vector<TickSpan> with_ends(const std::vector<TickSpan>& played,
                                const std::vector<std::int64_t>& onsets, const QuantiserTime& time,
                                PartsOf parts_of) {
  std::vector<TickSpan> result;
  for (std::size_t i = 0; i < played.size(); ++i) {
    const bool last = i + 1 == played.size();
    const std::int64_t begin = onsets[i];
    const std::int64_t end = played[i].end;
    if (!last && played[i + 1].begin - end < time.ppq / kJoinParts) {
      result.push_back({begin, onsets[i + 1]});
      continue;
    }
    const Beat beat = beat_at(time.meters, time.ppq, end);
    const int parts_of_onsets = parts_of(beat);
    const std::vector<int> divisions =
        time.grid ? std::vector{parts_of_onsets} : end_divisions(parts_of_onsets, beat.compound);
    std::int64_t placed = begin + std::max<std::int64_t>(1, beat.length / divisions.back());
    for (const int parts : divisions) {
      const std::int64_t part = (2 * (end - beat.begin) * parts + beat.length) / (2 * beat.length);
      const std::int64_t at = beat.begin + part * beat.length / parts;
      const bool finest = parts == divisions.back();
      if (at <= begin || (!finest && !is_near(end - played[i].begin, at - end, beat))) continue;
      placed = at;
      break;
    }
    result.push_back({begin, last ? placed : std::min(onsets[i + 1], placed)});
  }
  return result;
}

}  // namespace

bool can_be_quantised(const std::vector<TickSpan>& played, const QuantiserTime& time) {
  std::int64_t beat_begin = -1;
  std::size_t notes = 0;
  for (const TickSpan& note : played) {
    const Beat beat = beat_at(time.meters, time.ppq, note.begin);
    notes = beat.begin == beat_begin ? notes + 1 : 1;
    beat_begin = beat.begin;
    if (notes > kMostNotesInBeat) return false;
  }
  return true;
}

std::vector<TickSpan> quantise(const std::vector<TickSpan>& played, const QuantiserTime& time) {
  const std::vector<ActiveBeat> beats = active_beats(played, time);
  Solver solver(played, time, beats);
  // The first solution takes a usual player and a usual piece, and shows what these are like.
  Solver::Solution solution = solver.solve(TimingSpread(), DivisionHabit(), begins_of(played));
  solution = solver.solve(TimingSpread(played, solution.onsets, time),
                          habit_of(beats, solution.parts), solution.onsets);
  std::size_t at = 0;
  const auto parts_of = [&](const Beat& beat) {
    while (at + 1 < beats.size() && beats[at + 1].beat.begin <= beat.begin) ++at;
    if (time.grid) return grid_parts(beat, time);
    return beats[at].beat.begin == beat.begin ? solution.parts[at] : 1;
  };
  return with_ends(played, solution.onsets, time, parts_of);
}

std::vector<TickSpan> quantise_ends(const std::vector<TickSpan>& played,
                                    const QuantiserTime& time) {
  const std::vector<std::int64_t> onsets = begins_of(played);
  std::size_t at = 0;
  const auto parts_of = [&](const Beat& beat) {
    std::int64_t parts = 1;
    for (; at < onsets.size() && onsets[at] < beat.begin + beat.length; ++at) {
      if (onsets[at] < beat.begin) continue;
      const std::int64_t common = std::gcd(onsets[at] - beat.begin, beat.length);
      parts = std::lcm(parts, beat.length / common);
      if (parts > kFinestParts) return kEndParts;
    }
    return static_cast<int>(parts);
  };
  return with_ends(played, onsets, time, parts_of);
}

}  // namespace yubifu::midi
