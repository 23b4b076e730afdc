#include "midi/read/player_timing.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <map>

#include "midi/read/played_clock.h"
#include "midi/read/tempos.h"

namespace yubifu::midi {
namespace {

constexpr double kFewestExact = 3;       // notes
constexpr std::size_t kMostPhases = 64;  // a person has more
constexpr double kFewSimple = 0.2;       // of the notes, as they stand
constexpr double kMostSimple = 0.8;      // without the lateness
constexpr std::size_t kFewestLate = 8;   // notes
constexpr double kClearly = 0.35;        // a note: by how much the lateness must be better,
constexpr double kSurely = 10;           // and in all
constexpr int kPhaseSteps = 48;          // of a quarter note
constexpr double kOnGrid = 0.01;         // of a quarter note
constexpr double kSureErrors = 2.5;      // standard errors

double distance(double value, double step) {
  return std::abs(value - std::round(value / step) * step);
}

// The lateness without which nearly all notes stand on simple parts, and nearly none with it. A
// note at the start of the file tells nothing: it may have begun before.
std::int64_t exact_lateness(const std::vector<TickSpan>& notes, const MusicalTime& time) {
  std::map<std::int64_t, double>
      phases;  // how often notes begin on each tick of their quarter note
  double all = 0;
  for (const TickSpan& note : notes) {
    if (note.begin == 0) continue;
    ++phases[note.begin % time.ppq];
    ++all;
  }
  if (all < kFewestExact || phases.size() > kMostPhases) return 0;
  const auto simple = [&](std::int64_t late) {
    const bool rounded = time.ppq % 12 != 0 || time.slack > 0;
    const double reach = rounded ? std::max(0.99, time.slack) : 0.01;
    double sum = 0;
    for (const auto& [phase, count] : phases) {
      const auto at = static_cast<double>(phase - late);
      const double away = std::min(distance(at, time.ppq / 4.0), distance(at, time.ppq / 6.0));
      if (away <= reach) sum += count;
    }
    return sum;
  };
  const auto score = [&](std::int64_t late) {
    double sum = 0;
    for (const auto& [phase, count] : phases) {
      const double at = static_cast<double>(phase - late) / time.ppq;
      sum += count * std::log(onset_density(usual_places(false), at, time.ppq, 1));
    }
    return sum;
  };
  if (simple(0) > kFewSimple * all) return 0;
  std::int64_t best = 0;
  double best_score = 0;
  for (const auto& [phase, count] : phases) {
    const std::int64_t late = 2 * phase > time.ppq ? phase - time.ppq : phase;
    if (simple(late) < kMostSimple * all) continue;
    const double here = score(late);
    const bool better =
        here > best_score || (here == best_score && std::abs(late) < std::abs(best));
    if (best != 0 && !better) continue;
    best = late;
    best_score = here;
  }
  return best;
}

struct Measured {
  double middle = 0;
  double spread = 0;
};

// Where notes lie in their quarter notes, and how long these are.
class PlayedPhases {
 public:
  PlayedPhases(const std::vector<TickSpan>& notes, const FileClock& clock) {
    for (std::size_t i = 0; i < std::min(notes.size(), kJudgedNotes); ++i) {
      if (notes[i].begin == 0) continue;
      const auto quarter = static_cast<double>(clock.time.ppq);
      notes_.push_back(
          {static_cast<double>(notes[i].begin) / quarter,
           milliseconds_per_tick(clock.tempos, clock.time.ppq, notes[i].begin) * quarter});
    }
  }

  // In quarter notes.
  double lateness() const {
    const auto all = static_cast<double>(notes_.size());
    if (notes_.size() < kFewestLate) return 0;
    double late = 0;
    double best = score(0);
    const double needed = best + std::max(kSurely, kClearly * all);
    for (int i = 1 - kPhaseSteps / 2; i <= kPhaseSteps / 2; ++i) {
      const double here = score(static_cast<double>(i) / kPhaseSteps);
      if (here <= best) continue;
      best = here;
      late = static_cast<double>(i) / kPhaseSteps;
    }
    if (late == 0) return 0;
    late += error(late).middle;
    late += error(late).middle;
    const double away = std::min(distance(late, 0.5), distance(late, 1.0 / 3));
    const bool is_music =
        std::abs(late) > 0.25 && away < std::max(kOnGrid, kSureErrors * error(late).spread);
    return score(late) < needed || is_music ? 0 : late;
  }

 private:
  struct Note {
    double at = 0;
    double milliseconds = 0;  // of the quarter note
  };

  double score(double late) const {
    double best = -std::numeric_limits<double>::infinity();
    for (const BeatPlaces& feel : feels()) {
      double sum = 0;
      for (const Note& note : notes_) {
        sum += std::log(
            onset_density(feel, note.at - late, note.milliseconds, kUsualSpread * kUsualSpread));
      }
      best = std::max(best, sum);
    }
    return best;
  }

  // From the halves of the quarter note, of those that are not too far from one: the mean and its
  // standard error.
  Measured error(double late) const {
    double count = 0;
    double sum = 0;
    double squares = 0;
    for (const Note& note : notes_) {
      const double at = note.at - late;
      const double beat = at - std::round(at * 2) / 2;
      if (std::abs(beat) * note.milliseconds >= kSure * kUsualSpread) continue;
      ++count;
      sum += beat;
      squares += beat * beat;
    }
    return {sum / std::max(1.0, count), std::sqrt(squares) / std::max(1.0, count)};
  }

  std::vector<Note> notes_;
};

constexpr std::size_t kFewestMeasured = 12;  // fewer notes tell nothing about their player
constexpr double kLeastSpread = 6;           // milliseconds
constexpr double kMostSpread = 50;
constexpr double kSureOfShare = 3;  // standard errors
constexpr double kMostShare = 0.5;  // of a note, between it and the next
// The standard deviation of a normal distribution in terms of its median absolute deviation.
constexpr double kFromMedianDeviation = 1.4826;

// By medians, which single slips do not move.
Measured measure(std::vector<double> values) {
  const auto median = [](std::vector<double>& list) {
    const auto middle = list.begin() + static_cast<std::ptrdiff_t>(list.size() / 2);
    std::nth_element(list.begin(), middle, list.end());
    return *middle;
  };
  Measured result;
  result.middle = median(values);
  for (double& value : values) value = std::abs(value - result.middle);
  result.spread = kFromMedianDeviation * median(values);
  return result;
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

}  // namespace

std::int64_t constant_lateness(const std::vector<TickSpan>& notes, const FileClock& clock,
                               OnsetGrid grid) {
  const std::int64_t exact = exact_lateness(notes, clock.time);
  if (exact != 0 || grid == OnsetGrid::fine) return exact;
  return std::llround(PlayedPhases(notes, clock).lateness() * clock.time.ppq);
}

TimingSpread::TimingSpread(const std::vector<TickSpan>& played,
                           const std::vector<std::int64_t>& meant, const QuantiserTime& time) {
  std::vector<double> errors;
  std::vector<Gap> gaps;
  for (std::size_t i = 0; i < played.size(); ++i) {
    const double ms = milliseconds_per_tick(time.tempos, time.ppq, played[i].begin);
    errors.push_back(static_cast<double>(played[i].begin - meant[i]) * ms);
    if (i == 0) continue;
    const std::int64_t gap = played[i].begin - played[i - 1].end;
    if (std::abs(gap) >= time.ppq / kJoinParts) continue;
    gaps.push_back(
        {static_cast<double>(meant[i] - meant[i - 1]) * ms, static_cast<double>(gap) * ms});
  }
  if (errors.size() < kFewestMeasured) return;
  const Measured onset = measure(std::move(errors));
  late_ = onset.middle;
  spread_ = std::clamp(onset.spread, kLeastSpread, kMostSpread);
  if (gaps.size() < kFewestMeasured) return;
  // A gap spreads by the onset and by the end; what the onset does not explain is the end's. Nobody
  // ends notes more exactly than they begin them.
  gap_share_ = share_of_steps(gaps);
  std::vector<double> unshared;
  for (const Gap& one : gaps) unshared.push_back(one.gap - gap_share_ * one.step);
  const Measured gap = measure(std::move(unshared));
  gap_ = gap.middle;
  const double rest = gap.spread * gap.spread - onset.spread * onset.spread;
  end_spread_ = std::max(spread_, std::sqrt(std::max(rest, 0.0)));
}

Onset TimingSpread::best_onset(double tick, const std::optional<Joined>& joined,
                               double milliseconds_per_tick) const {
  const double here = tick - late_ / milliseconds_per_tick;
  if (!joined || !end_spread_) return {here, spread_};
  // The end of the note before, moved by the usual gap, was meant for the same moment.
  const double usual = gap_ / milliseconds_per_tick + gap_share_ * joined->step;
  const double by_end = here - joined->gap + usual;
  const double trust = 1 / (spread_ * spread_);
  const double trust_end = 1 / (*end_spread_ * *end_spread_);
  return {(here * trust + by_end * trust_end) / (trust + trust_end),
          1 / std::sqrt(trust + trust_end)};
}

}  // namespace yubifu::midi
