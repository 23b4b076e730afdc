#include "midi/read/quantiser.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <utility>

#include "midi/read/beat_fit.h"
#include "midi/read/tempos.h"

namespace yubifu::midi {
namespace {

constexpr double kReach = 0.3;              // of a beat: how far a note may stand from its own beat
constexpr std::size_t kMostOver = 2;        // notes that may change the beat at one boundary
constexpr int kEndParts = 4;                // of a beat: where the end of a note may stand
constexpr double kEndReach = 0.2;           // of a beat: how far a simpler end may lie
constexpr double kMostShortened = 1.0 / 4;  // of a note, for the sake of a simpler end,
constexpr double kMostLengthened = 1.0 / 5;  // or of a long one
constexpr std::size_t kMostNotesInBeat = 64;
constexpr double kFinerGrid = 30;  // the cost of going under a grid that was asked for

// The parts of a beat on the grid that was asked for; twice as many where a dotted quarter has no
// whole number of them.
int grid_parts(const Beat& beat, const QuantiserTime& time) {
  const std::int64_t asked = beat.length * *time.grid;
  const std::int64_t parts = asked % time.ppq == 0 ? asked / time.ppq : 2 * asked / time.ppq;
  return static_cast<int>(std::max<std::int64_t>(1, parts));
}

constexpr std::size_t kFewestMeasured = 12;  // fewer notes tell nothing about their player
constexpr double kLeastSpread = 6;           // milliseconds
constexpr double kMostSpread = 50;
constexpr double kSureOfShare = 3;  // standard errors
constexpr double kMostShare = 0.5;  // of a note, between it and the next
// The standard deviation of a normal distribution in terms of its median absolute deviation.
constexpr double kFromMedianDeviation = 1.4826;

// The middle of values and their spread: by medians, which single slips do not move.
std::pair<double, double> measured(std::vector<double> values) {
  const auto median = [](std::vector<double>& list) {
    const auto middle = list.begin() + static_cast<std::ptrdiff_t>(list.size() / 2);
    std::nth_element(list.begin(), middle, list.end());
    return *middle;
  };
  const double middle = median(values);
  for (double& value : values) value = std::abs(value - middle);
  return std::pair(middle, kFromMedianDeviation * median(values));
}

// Between joined notes, in milliseconds: how far their onsets lie apart, and the gap.
struct Gap {
  double step = 0;
  double gap = 0;
};

// Who detaches notes shortens long ones by more. The share of a note that its gap takes, by least
// squares; none where chance could have made it.
double share_of_steps(const std::vector<Gap>& gaps) {
  const auto count = static_cast<double>(gaps.size());
  Gap mean;
  for (const Gap& gap : gaps) {
    mean.step += gap.step / count;
    mean.gap += gap.gap / count;
  }
  double steps = 0;
  double both = 0;
  double all = 0;
  for (const Gap& gap : gaps) {
    steps += (gap.step - mean.step) * (gap.step - mean.step);
    both += (gap.step - mean.step) * (gap.gap - mean.gap);
    all += (gap.gap - mean.gap) * (gap.gap - mean.gap);
  }
  if (steps <= 0) return 0;
  const double share = both / steps;
  const double unexplained = std::max(0.0, all - share * both);
  const double error = std::sqrt(unexplained / (count - 2) / steps);
  return share > kSureOfShare * error ? std::min(share, kMostShare) : 0;
}

// What notes tell of a player, in milliseconds; at first an ordinary one, whose ends say nothing.
struct PlayerTiming {
  double late = 0;  // how late onsets come
  double spread = 20;
  std::optional<double> end_spread = {};
  double gap = 0;        // between joined notes,
  double gap_share = 0;  // and the share of the first note that it takes besides
};

// From the end of the note before to the onset of a note, in ticks, where it follows at once.
std::optional<std::int64_t> joining_gap(const std::vector<TickSpan>& played, std::size_t note,
                                        const QuantiserTime& time) {
  if (note == 0) return std::nullopt;
  const std::int64_t gap = played[note].begin - played[note - 1].end;
  return std::abs(gap) < time.ppq / kJoinParts ? std::optional(gap) : std::nullopt;
}

// Measured on the notes against the onsets they were meant for.
PlayerTiming timing_of(const std::vector<TickSpan>& played, const std::vector<std::int64_t>& meant,
                       const QuantiserTime& time) {
  std::vector<double> errors;
  std::vector<Gap> gaps;
  for (std::size_t i = 0; i < played.size(); ++i) {
    const double ms = milliseconds_per_tick(time.tempos, time.ppq, played[i].begin);
    errors.push_back(static_cast<double>(played[i].begin - meant[i]) * ms);
    if (const auto gap = joining_gap(played, i, time)) {
      gaps.push_back(
          {static_cast<double>(meant[i] - meant[i - 1]) * ms, static_cast<double>(*gap) * ms});
    }
  }
  PlayerTiming player;
  if (errors.size() < kFewestMeasured) return player;
  const auto [late, spread] = measured(std::move(errors));
  player.late = late;
  player.spread = std::clamp(spread, kLeastSpread, kMostSpread);
  if (gaps.size() < kFewestMeasured) return player;
  // A gap spreads by the onset and by the end; what the onset does not explain is the end's. Nobody
  // ends notes more exactly than they begin them.
  player.gap_share = share_of_steps(gaps);
  std::vector<double> unshared;
  for (const Gap& one : gaps) unshared.push_back(one.gap - player.gap_share * one.step);
  const auto [gap, gap_spread] = measured(std::move(unshared));
  player.gap = gap;
  const double rest = gap_spread * gap_spread - spread * spread;
  player.end_spread = std::max(player.spread, std::sqrt(std::max(rest, 0.0)));
  return player;
}

// The best guess at an onset in ticks, and its standard deviation in milliseconds.
struct Onset {
  double tick = 0;
  double spread = 0;
};

// The beats with notes, and those beside them.
std::vector<Beat> active_beats(const std::vector<TickSpan>& played, const QuantiserTime& time) {
  std::vector<Beat> beats;
  const auto add = [&](std::int64_t tick) {
    const Beat beat = beat_at(time.meters, time.ppq, tick);
    if (beats.empty() || beats.back().begin < beat.begin) beats.push_back(beat);
  };
  for (const TickSpan& note : played) {
    const Beat beat = beat_at(time.meters, time.ppq, note.begin);
    if (beat.begin > 0) add(beat.begin - 1);
    add(beat.begin);
    add(beat.begin + beat.length);
  }
  return beats;
}

// The best way so far to place the first `notes` notes, the last divided beat being of `kind`.
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
         const std::vector<Beat>& beats)
      : played_(played), time_(time), beats_(beats) {}

  // The onsets, and for each active beat its division.
  struct Solution {
    std::vector<std::int64_t> onsets;
    std::vector<int> parts;
  };

  // `meant` are the onsets as far as they are known.
  Solution solve(const PlayerTiming& player, const DivisionHabit& habit,
                 const std::vector<std::int64_t>& meant) {
    habit_ = habit;
    measure(player, meant);
    std::vector<std::vector<State>> boundaries{{State{}}};
    for (std::size_t b = 0; b < beats_.size(); ++b) {
      boundaries.push_back(after_beat(b, boundaries.back()));
    }
    return trace(boundaries);
  }

 private:
  // Every onset in ticks and how sure it is.
  void measure(const PlayerTiming& player, const std::vector<std::int64_t>& meant) {
    onsets_.clear();
    for (std::size_t i = 0; i < played_.size(); ++i) {
      const double ms = milliseconds_per_tick(time_.tempos, time_.ppq, played_[i].begin);
      Onset onset{static_cast<double>(played_[i].begin) - player.late / ms, player.spread};
      const auto gap = joining_gap(played_, i, time_);
      if (gap && player.end_spread) {
        // The end of the note before, moved by the usual gap, was meant for the same moment.
        const double step = static_cast<double>(meant[i] - meant[i - 1]);
        const double usual = player.gap / ms + player.gap_share * step;
        const double by_end = onset.tick - static_cast<double>(*gap) + usual;
        const double trust = 1 / (player.spread * player.spread);
        const double trust_end = 1 / (*player.end_spread * *player.end_spread);
        onset = {(onset.tick * trust + by_end * trust_end) / (trust + trust_end),
                 1 / std::sqrt(trust + trust_end)};
      }
      // Two guesses may cross where the played times did not.
      if (i > 0) onset.tick = std::max(onset.tick, onsets_.back().tick);
      onsets_.push_back(onset);
    }
  }

  double boundary(std::size_t b) const {
    const Beat& last = beats_.back();
    return static_cast<double>(b < beats_.size() ? beats_[b].begin : last.begin + last.length);
  }

  // How many notes may lie before boundary `b`, at least and at most.
  std::pair<std::size_t, std::size_t> notes_before(std::size_t b) const {
    if (b == beats_.size()) return {onsets_.size(), onsets_.size()};
    const double reach = kReach * static_cast<double>(beats_[b].length);
    const auto count = [&](double tick) {
      const auto found =
          std::lower_bound(onsets_.begin(), onsets_.end(), tick,
                           [](const Onset& onset, double t) { return onset.tick < t; });
      return static_cast<std::size_t>(found - onsets_.begin());
    };
    const std::size_t middle = count(boundary(b));
    const std::size_t floor = middle < kMostOver ? 0 : middle - kMostOver;
    return {std::max(count(boundary(b) - reach), floor),
            std::min(count(boundary(b) + reach), middle + kMostOver)};
  }

  std::vector<BeatDivision> divisions(const Beat& beat, std::size_t notes) const {
    std::vector<BeatDivision> list;
    if (time_.grid) {
      double cost = 0;
      for (int finer = 1; finer <= kFinestParts; finer *= 2, cost += kFinerGrid) {
        list.push_back({grid_parts(beat, time_) * finer, cost, DivisionKind::undivided});
      }
    } else {
      list = usual_divisions(beat.compound);
      if (notes > 8) list.push_back(crowded_division(notes));
    }
    std::erase_if(list, [&](const BeatDivision& division) {
      return static_cast<std::size_t>(division.parts) < notes;
    });
    if (notes == 0 || time_.grid) list.resize(1);
    return list;
  }

  // The notes [first, last) as they lie in beat `b`.
  std::vector<PlayedOnset> notes_in(std::size_t b, std::size_t first, std::size_t last) const {
    const Beat& beat = beats_[b];
    const auto length = static_cast<double>(beat.length);
    const double ms = milliseconds_per_tick(time_.tempos, time_.ppq, beat.begin) * length;
    std::vector<PlayedOnset> notes;
    notes.reserve(last - first);
    for (std::size_t i = first; i < last; ++i) {
      notes.push_back(
          {(onsets_[i].tick - static_cast<double>(beat.begin)) / length, onsets_[i].spread / ms});
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
          const double fixed = division.cost + habit_cost(habit_, division.kind);
          if (cannot_win(to, last, cheapest + fixed + least_cost(notes, division.parts))) continue;
          const double cost = fixed + fit_beat(notes, division.parts).cost;
          for (std::size_t i = s; i < end; ++i) {
            const DivisionKind kind =
                division.kind == DivisionKind::undivided ? from[i].kind : division.kind;
            const double change = change_cost(from[i].kind, kind);
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
      const Beat& beat = beats_[b];
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
  const std::vector<Beat>& beats_;
  std::vector<Onset> onsets_;
  DivisionHabit habit_;
};

// How often beats are divided in the way that is the unusual one for most of them.
DivisionHabit habit_of(const std::vector<Beat>& beats, const std::vector<int>& parts) {
  const auto compound =
      std::count_if(beats.begin(), beats.end(), [](const Beat& beat) { return beat.compound; });
  DivisionHabit habit;
  if (static_cast<std::size_t>(compound) * 2 > beats.size()) habit.kind = DivisionKind::binary;
  for (const int divided : parts) {
    const bool ternary = divided % 3 == 0;
    if (divided == 1) continue;
    ++habit.divided;
    if (ternary == (habit.kind == DivisionKind::ternary)) ++habit.beats;
  }
  return habit;
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

// With these onsets and the ends that were meant. `parts_of`, called in order, divides a beat.
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
  const std::vector<Beat> beats = active_beats(played, time);
  Solver solver(played, time, beats);
  // The first solution takes a usual player and a usual piece, and shows what these are like.
  std::vector<std::int64_t> begins;
  for (const TickSpan& note : played) begins.push_back(note.begin);
  Solver::Solution solution = solver.solve(PlayerTiming(), DivisionHabit(), begins);
  solution = solver.solve(timing_of(played, solution.onsets, time), habit_of(beats, solution.parts),
                          solution.onsets);
  std::size_t at = 0;
  const auto parts_of = [&](const Beat& beat) {
    while (at + 1 < beats.size() && beats[at + 1].begin <= beat.begin) ++at;
    if (time.grid) return grid_parts(beat, time);
    return beats[at].begin == beat.begin ? solution.parts[at] : 1;
  };
  return with_ends(played, solution.onsets, time, parts_of);
}

std::vector<TickSpan> quantise_ends(const std::vector<TickSpan>& played,
                                    const QuantiserTime& time) {
  std::vector<std::int64_t> onsets;
  for (const TickSpan& note : played) onsets.push_back(note.begin);
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
