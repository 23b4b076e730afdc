#include "midi/lateness.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <map>
#include <numeric>

#include "midi/beat_places.h"
#include "midi/tempo_walk.h"

namespace yubifu::midi {
namespace {

constexpr std::size_t kFewestExact = 3;  // notes
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

// How often notes begin on each tick of their quarter note. One at the start of the file tells
// nothing: it may have begun before.
class Phases {
 public:
  Phases(const std::vector<TickSpan>& notes, const MusicalTime& time) : time_(time) {
    for (const TickSpan& note : notes) {
      if (note.begin == 0) continue;
      ++counts_[note.begin % time.ppq];
      ++notes_;
    }
  }

  // The lateness without which nearly all notes stand on simple parts, and nearly none with it.
  std::int64_t exact_lateness() const {
    const auto all = static_cast<double>(notes_);
    if (notes_ < kFewestExact || counts_.size() > kMostPhases) return 0;
    if (simple(0) > kFewSimple * all) return 0;
    std::int64_t best = 0;
    double best_score = 0;
    for (const auto& [phase, count] : counts_) {
      const std::int64_t late = 2 * phase > time_.ppq ? phase - time_.ppq : phase;
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

 private:
  double simple(std::int64_t late) const {
    const bool rounded = time_.ppq % 12 != 0 || time_.slack > 0;
    const double reach = rounded ? std::max(0.99, time_.slack) : 0.01;
    double sum = 0;
    for (const auto& [phase, count] : counts_) {
      const auto at = static_cast<double>(phase - late);
      const double away = std::min(distance(at, time_.ppq / 4.0), distance(at, time_.ppq / 6.0));
      if (away <= reach) sum += static_cast<double>(count);
    }
    return sum;
  }

  double score(std::int64_t late) const {
    double sum = 0;
    for (const auto& [phase, count] : counts_) {
      const double at = static_cast<double>(phase - late) / time_.ppq;
      sum += static_cast<double>(count) *
             std::log(onset_density(usual_places(false), at, time_.ppq, 1));
    }
    return sum;
  }

  const MusicalTime& time_;
  std::map<std::int64_t, std::size_t> counts_;
  std::size_t notes_ = 0;
};

// Where notes lie in their quarter notes, and how long these are.
class PlayedPhases {
 public:
  PlayedPhases(const std::vector<TickSpan>& notes, const FileClock& clock) {
    TempoWalk tempo(clock.tempos, clock.time.ppq);
    for (std::size_t i = 0; i < std::min(notes.size(), kJudgedNotes); ++i) {
      if (notes[i].begin == 0) continue;
      const auto quarter = static_cast<double>(clock.time.ppq);
      notes_.push_back({static_cast<double>(notes[i].begin) / quarter,
                        tempo.milliseconds_per_tick(notes[i].begin) * quarter});
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
    late += mean_error(late);
    late += mean_error(late);
    return score(late) < needed || is_music(late) ? 0 : late;
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

  // From the halves of the quarter note, of those that are not too far from one.
  std::vector<double> errors(double late) const {
    std::vector<double> errors;
    for (const Note& note : notes_) {
      const double at = note.at - late;
      const double beat = at - std::round(at * 2) / 2;
      if (std::abs(beat) * note.milliseconds < kSure * kUsualSpread) errors.push_back(beat);
    }
    return errors;
  }

  double mean_error(double late) const {
    const std::vector<double> all = errors(late);
    return std::accumulate(all.begin(), all.end(), 0.0) /
           std::max(1.0, static_cast<double>(all.size()));
  }

  bool is_music(double late) const {
    const std::vector<double> all = errors(late);
    double squares = 0;
    for (const double error : all) squares += error * error;
    // The standard error of the mean.
    const double doubt = std::sqrt(squares) / std::max(1.0, static_cast<double>(all.size()));
    const double away = std::min(distance(late, 0.5), distance(late, 1.0 / 3));
    return std::abs(late) > 0.25 && away < std::max(kOnGrid, kSureErrors * doubt);
  }

  std::vector<Note> notes_;
};

}  // namespace

std::int64_t constant_lateness(const std::vector<TickSpan>& notes, const FileClock& clock,
                               OnsetGrid grid) {
  const std::int64_t exact = Phases(notes, clock.time).exact_lateness();
  if (exact != 0 || grid == OnsetGrid::fine) return exact;
  return std::llround(PlayedPhases(notes, clock).lateness() * clock.time.ppq);
}

}  // namespace yubifu::midi
