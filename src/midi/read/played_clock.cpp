#include "midi/read/played_clock.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <numbers>
#include <utility>

namespace yubifu::midi {
namespace {

// A place of the beat, 0 to below 1, and how many notes begin there in one beat: what tells a
// clock that explains a melody from one that does not. Our choice, from invented tunes.
struct BeatPlace {
  double at = 0;
  double rate = 0;
};
using BeatPlaces = std::vector<BeatPlace>;

constexpr double kUsualSpread = 20;         // of an ordinary player's onsets, in milliseconds
constexpr double kSure = 3;                 // more standard deviations than this are no chance
constexpr std::size_t kJudgedNotes = 1000;  // tell a clock; more would only take time

// Notes a millisecond that are at no place at all.
constexpr double kStrayRate = 1e-4;

constexpr double kDoubt = 0.012;     // of a beat, at first
constexpr double kWander = 0.002;    // of a beat, in each: how a tempo drifts
constexpr double kSlowestBeat = 40;  // beats a minute
constexpr double kFastestBeat = 208;
constexpr double kTempoStep = 1.02;  // from one tempo that is tried to the next
constexpr double kUsualBeat = 115;
constexpr double kUnusual = 0.06;         // a note: how an unusual tempo speaks against itself
constexpr std::size_t kFirstNotes = 64;   // that choose the tempos to be followed
constexpr std::size_t kFollowed = 48;     // tempos
constexpr std::size_t kFewestNotes = 16;  // that show a tempo
constexpr double kBetter = 0.1;           // a note: by how much another clock must be better
constexpr double kSurelyPlayed = 10;      // and in all
constexpr double kAskedReach = 1.08;      // around a tempo that is asked for
constexpr double kSmoothing = 4;          // beats
constexpr double kSteady = 0.5;           // what a beat keeps of the length of the one before
constexpr double kBare = 0.05;            // notes in reach: none to speak of
constexpr double kMostPlayedBeats = 1e6;  // more are no music
constexpr double kLeastStep = 0.05;       // beats between two notes
constexpr double kLeastBeat = 0.3;        // of the one before

// A normal distribution around 0.
double normal_density(double error, double variance) {
  return std::exp(-error * error / (2 * variance)) / std::sqrt(2 * std::numbers::pi * variance);
}

// Those of an ordinary melody, in simple or in compound time.
const BeatPlaces& usual_places(bool compound) {
  static const BeatPlaces simple_time{{0, 0.8},     {0.5, 0.35},     {0.25, 0.12},
                                      {0.75, 0.16}, {1.0 / 3, 0.05}, {2.0 / 3, 0.07}};
  static const BeatPlaces compound_time{{0, 0.8},        {1.0 / 3, 0.35}, {2.0 / 3, 0.45},
                                        {1.0 / 6, 0.04}, {0.5, 0.08},     {5.0 / 6, 0.06}};
  return compound ? compound_time : simple_time;
}

// The ways to divide the beats of a steady clock: in halves, in thirds, and with the swing of a
// second half that comes late.
const std::vector<BeatPlaces>& feels() {
  static const std::vector<BeatPlaces> list{usual_places(false),
                                            usual_places(true),
                                            {{0, 0.8}, {0.54, 0.5}},
                                            {{0, 0.8}, {0.58, 0.5}},
                                            {{0, 0.8}, {0.62, 0.5}}};
  return list;
}

// How many notes a millisecond begin `at` so many beats, of so many milliseconds each, when they
// spread by that variance in square milliseconds.
double onset_density(const BeatPlaces& places, double at, double milliseconds, double variance) {
  double sum = kStrayRate;
  for (const BeatPlace& place : places) {
    const double error = at - place.at - std::round(at - place.at);
    sum += place.rate * normal_density(error * milliseconds, variance);
  }
  return sum;
}

// The ticks of a file in milliseconds from its start.
class RealTime {
 public:
  explicit RealTime(const FileClock& clock) {
    for (const auto& [tick, microseconds] : clock.tempos) {
      const auto begin = static_cast<double>(tick);
      const double passed = spans_.empty() ? 0 : milliseconds(begin);
      spans_.push_back({begin, passed, microseconds / 1000.0 / clock.time.ppq});
    }
  }

  double milliseconds(double tick) const {
    const Span& span = last_from(&Span::tick, tick);
    return span.milliseconds + (tick - span.tick) * span.per_tick;
  }
  double tick(double milliseconds) const {
    const Span& span = last_from(&Span::milliseconds, milliseconds);
    return span.tick + (milliseconds - span.milliseconds) / span.per_tick;
  }

  std::vector<double> onsets(const std::vector<TickSpan>& notes) const {
    std::vector<double> times;
    times.reserve(notes.size());
    for (const auto& note : notes) times.push_back(milliseconds(static_cast<double>(note.begin)));
    return times;
  }

 private:
  struct Span {
    double tick = 0;
    double milliseconds = 0;
    double per_tick = 0;
  };

  // The last one that begins up to there, or else the first.
  const Span& last_from(double Span::*begin, double there) const {
    const auto after = std::partition_point(spans_.begin(), spans_.end(),
                                            [&](const Span& span) { return span.*begin <= there; });
    return after == spans_.begin() ? *after : *std::prev(after);
  }

  std::vector<Span> spans_;
};

// Follows the notes from one guess at the beats on, each note telling where the beats are
// (a Kalman filter over the time of a place and the length of a beat).
class Follower {
 public:
  // `doubt` of the period in milliseconds, at `time`, when the place is so many beats; none for a
  // clock that does not give way.
  Follower(double period, double time, double place, double doubt, const BeatPlaces& places)
      : places_(&places),
        wander_(doubt == 0 ? 0 : kWander * period),
        time_(time),
        period_(period),
        place_(place),
        time_variance_(doubt == 0 ? 0 : kUsualSpread * kUsualSpread),
        period_variance_(doubt * doubt * period * period) {
    for (const BeatPlace& one : places) rates_ += one.rate;
  }

  void take(double time) {
    const double from = place_;
    const double guess = place_ + (time - time_) / period_;
    const double step = guess - place_;
    const double variance = variance_after(step) + kUsualSpread * kUsualSpread;
    double density = kStrayRate;
    double best = 0;
    double target = guess;
    const double beat = std::floor(guess);
    for (const BeatPlace& place : *places_) {
      double error = guess - beat - place.at;
      error -= std::round(error);
      const double here = place.rate * normal_density(error * period_, variance);
      density += here;
      if (here > best) {
        best = here;
        target = guess - error;
      }
    }
    score_ += std::log(density);
    if (last_) score_ -= rates_ * std::max(0.0, guess - *last_);
    last_ = guess;
    const bool stray = std::abs(target - guess) * period_ > kSure * std::sqrt(variance);
    if (!met_.empty() && (stray || target - met_.back().first < kLeastStep)) return;
    met_.emplace_back(target, time);
    if (wander_ == 0) return;
    move(target - from);
    learn(time - time_);
  }

  void take(const std::vector<double>& times, std::size_t from, std::size_t to) {
    for (std::size_t i = from; i < std::min(to, times.size()); ++i) take(times[i]);
  }

  // How likely the notes are, as a natural logarithm.
  double score() const { return score_; }
  double period() const { return period_; }
  // Whether another one counts the same beats, be it from another first one.
  bool has_beats_of(const Follower& other) const {
    const double apart = (met_.back().second - other.met_.back().second) / other.period_ -
                         (met_.back().first - other.met_.back().first);
    return std::abs(period_ / other.period_ - 1) < kTempoStep / 2 - 0.5 &&
           std::abs(apart - std::round(apart)) < 0.1;
  }
  // Places in beats, and the times at which they were met.
  const std::vector<std::pair<double, double>>& met() const { return met_; }

 private:
  double variance_after(double step) const {
    const double wander = wander_ * wander_ * std::abs(step) * step * step / 3;
    return std::max(0.0, time_variance_ + 2 * step * both_ + step * step * period_variance_) +
           wander;
  }

  void move(double step) {
    time_variance_ = variance_after(step);
    both_ += step * period_variance_ + wander_ * wander_ * std::abs(step) * step / 2;
    period_variance_ += wander_ * wander_ * std::abs(step);
    time_ += step * period_;
    place_ += step;
  }

  void learn(double error) {
    const double variance = time_variance_ + kUsualSpread * kUsualSpread;
    const double time_gain = time_variance_ / variance;
    const double period_gain = both_ / variance;
    time_ += time_gain * error;
    period_ = std::clamp(period_ + period_gain * error, first_period_ / 2, first_period_ * 2);
    period_variance_ -= period_gain * both_;
    both_ *= 1 - time_gain;
    time_variance_ *= 1 - time_gain;
  }

  const BeatPlaces* places_;
  double rates_ = 0;
  double wander_;
  double time_;
  double period_;
  double first_period_ = period_;
  double place_;
  double time_variance_;
  double both_ = 0;
  double period_variance_;
  double score_ = 0;
  std::optional<double> last_;
  std::vector<std::pair<double, double>> met_;
};

// How well the clock of the file explains the notes: with any feel, counted in parts or in
// multiples of its beats, also when the music is syncopated throughout.
double file_score(const std::vector<double>& times, double beat, double late, bool compound) {
  double best = -std::numeric_limits<double>::infinity();
  const auto try_clock = [&](double period, double first, const BeatPlaces& in) {
    Follower follower(period, first, 0, 0, in);
    follower.take(times, 0, kJudgedNotes);
    best = std::max(best, follower.score());
  };
  for (const double first : {0.0, late, late + beat / 4, late + beat / 2, late - beat / 4}) {
    for (const BeatPlaces& feel : feels()) try_clock(beat, first, feel);
    for (const int parts : {2, 3}) try_clock(beat / parts, first, usual_places(compound));
    for (const int beats : {2, 3, 4}) {
      for (int phase = 0; phase < beats; ++phase) {
        try_clock(beat * beats, first + beat * phase, usual_places(compound));
      }
    }
  }
  return best;
}

// The beats of the tempos within [slowest, fastest] that the notes fit best: followed from the
// first note on, all of them for some notes, the best ones further.
Follower best_follower(const std::vector<double>& times, const BeatPlaces& places, double slowest,
                       double fastest) {
  const auto worth = [&](const Follower& follower, std::size_t notes) {
    const double octaves = std::log2(60'000 / follower.period() / kUsualBeat);
    return follower.score() -
           kUnusual * octaves * octaves * static_cast<double>(std::min(notes, times.size()));
  };
  std::vector<Follower> tried;
  for (double tempo = slowest; tempo <= fastest; tempo *= kTempoStep) {
    for (const BeatPlace& place : places) {
      tried.emplace_back(60'000 / tempo, times.front(), place.at, kDoubt, places)
          .take(times, 0, kFirstNotes);
    }
  }
  std::sort(tried.begin(), tried.end(), [&](const Follower& a, const Follower& b) {
    return worth(a, kFirstNotes) > worth(b, kFirstNotes);
  });
  std::vector<Follower> followed;
  for (const Follower& follower : tried) {
    const bool known = std::any_of(followed.begin(), followed.end(), [&](const Follower& other) {
      return follower.has_beats_of(other);
    });
    if (!known) followed.push_back(follower);
    if (followed.size() == kFollowed) break;
  }
  for (Follower& follower : followed) follower.take(times, kFirstNotes, kJudgedNotes);
  return *std::max_element(followed.begin(), followed.end(),
                           [&](const Follower& a, const Follower& b) {
                             return worth(a, kJudgedNotes) < worth(b, kJudgedNotes);
                           });
}

// The time of each beat, from the places that notes have met around it: the line through them by
// least squares, the near ones weighing more.
std::vector<PlayedBeat> smooth_beats(const std::vector<std::pair<double, double>>& met,
                                     double period, const RealTime& real) {
  std::vector<PlayedBeat> beats;
  const double first = std::floor(met.front().first);
  const double last = std::floor(met.back().first) + 1;
  std::size_t from = 0;
  for (double beat = first; beat <= last; ++beat) {
    while (met[from].first < beat - 3 * kSmoothing && from + 1 < met.size()) ++from;
    double sum = 0;
    double places = 0;
    double times = 0;
    double squares = kSteady;
    double products = kSteady * period;
    const auto weight = [&](double place) {
      const double away = (place - beat) / kSmoothing;
      return std::exp(-away * away / 2);
    };
    const auto in_reach = [&](std::size_t i) {
      return i < met.size() && (i == from || met[i].first <= beat + 3 * kSmoothing);
    };
    for (std::size_t i = from; in_reach(i); ++i) {
      const double w = weight(met[i].first);
      sum += w;
      places += w * (met[i].first - beat);
      times += w * (met[i].second - met[from].second);
    }
    const bool bare = sum < kBare;
    const double place = bare ? met[from].first - beat : places / sum;
    const double time = bare ? 0 : times / sum;
    for (std::size_t i = from; in_reach(i) && !bare; ++i) {
      const double w = weight(met[i].first);
      const double step = met[i].first - beat - place;
      squares += w * step * step;
      products += w * step * (met[i].second - met[from].second - time);
    }
    period = products / squares;
    double at = met[from].second + time - place * period;
    if (!beats.empty()) at = std::max(at, beats.back().milliseconds + period * kLeastBeat);
    beats.push_back({real.tick(at), at});
  }
  return beats;
}

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
  // How often notes begin on each tick of their quarter note.
  std::map<std::int64_t, double> phases;
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

// The lateness that the notes of a person show, in quarter notes.
double played_lateness(const std::vector<TickSpan>& notes, const FileClock& clock) {
  const auto ppq = static_cast<double>(clock.time.ppq);
  // Where notes lie in quarter notes, and how many milliseconds these are long.
  std::vector<std::pair<double, double>> phases;
  for (std::size_t i = 0; i < std::min(notes.size(), kJudgedNotes); ++i) {
    if (notes[i].begin == 0) continue;
    phases.emplace_back(static_cast<double>(notes[i].begin) / ppq,
                        milliseconds_per_tick(clock.tempos, clock.time.ppq, notes[i].begin) * ppq);
  }
  if (phases.size() < kFewestLate) return 0;
  const auto score = [&](double late) {
    double best = -std::numeric_limits<double>::infinity();
    for (const BeatPlaces& feel : feels()) {
      double sum = 0;
      for (const auto& [at, milliseconds] : phases) {
        sum += std::log(onset_density(feel, at - late, milliseconds, kUsualSpread * kUsualSpread));
      }
      best = std::max(best, sum);
    }
    return best;
  };
  // From the halves of the quarter note, of those that are not too far from one: the mean and its
  // standard error.
  const auto error = [&](double late) {
    double count = 0;
    double sum = 0;
    double squares = 0;
    for (const auto& [at, milliseconds] : phases) {
      const double beat = at - late - std::round((at - late) * 2) / 2;
      if (std::abs(beat) * milliseconds >= kSure * kUsualSpread) continue;
      ++count;
      sum += beat;
      squares += beat * beat;
    }
    return std::pair(sum / std::max(1.0, count), std::sqrt(squares) / std::max(1.0, count));
  };
  double late = 0;
  double best = score(0);
  const double needed = best + std::max(kSurely, kClearly * static_cast<double>(phases.size()));
  for (int i = 1 - kPhaseSteps / 2; i <= kPhaseSteps / 2; ++i) {
    const double here = score(static_cast<double>(i) / kPhaseSteps);
    if (here <= best) continue;
    best = here;
    late = static_cast<double>(i) / kPhaseSteps;
  }
  if (late == 0) return 0;
  late += error(late).first;
  late += error(late).first;
  const double away = std::min(distance(late, 0.5), distance(late, 1.0 / 3));
  const bool is_music =
      std::abs(late) > 0.25 && away < std::max(kOnGrid, kSureErrors * error(late).second);
  return score(late) < needed || is_music ? 0 : late;
}

}  // namespace

std::int64_t constant_lateness(const std::vector<TickSpan>& notes, const FileClock& clock,
                               OnsetGrid grid) {
  const std::int64_t exact = exact_lateness(notes, clock.time);
  if (exact != 0 || grid == OnsetGrid::fine) return exact;
  return std::llround(played_lateness(notes, clock) * clock.time.ppq);
}

std::optional<std::vector<PlayedBeat>> played_beats(const std::vector<TickSpan>& notes,
                                                    const FileClock& clock, const Pulse& pulse,
                                                    std::int64_t late) {
  if (notes.size() < (pulse.asked ? 2 : kFewestNotes)) return std::nullopt;
  const RealTime real(clock);
  const std::vector<double> times = real.onsets(notes);
  const BeatPlaces& where = usual_places(pulse.compound);
  Follower best = pulse.asked ? best_follower(times, where, *pulse.asked / kAskedReach,
                                              *pulse.asked * kAskedReach)
                              : best_follower(times, where, kSlowestBeat, kFastestBeat);
  if (!pulse.asked) {
    const auto judged = static_cast<double>(std::min(times.size(), kJudgedNotes));
    const double beat = clock.tempos.front().value / 1000.0 * pulse.quarters;
    const double file =
        file_score(times, beat, real.milliseconds(static_cast<double>(late)), pulse.compound);
    if (best.score() - file < std::max(kSurelyPlayed, kBetter * judged)) return std::nullopt;
  }
  best.take(times, kJudgedNotes, times.size());
  if (times.back() - times.front() > kMostPlayedBeats * best.period()) return std::nullopt;
  return smooth_beats(best.met(), best.period(), real);
}

std::vector<PlayedBeat> beats_through(const std::vector<double>& places,
                                      const std::vector<TickSpan>& notes, const FileClock& clock) {
  const RealTime real(clock);
  const std::vector<double> times = real.onsets(notes);
  std::vector<std::pair<double, double>> met;
  for (std::size_t i = 0; i < times.size(); ++i) {
    if (met.empty() || places[i] > met.back().first) met.emplace_back(places[i], times[i]);
  }
  const double span = met.back().first - met.front().first;
  return smooth_beats(met, (met.back().second - met.front().second) / std::max(span, kLeastStep),
                      real);
}

}  // namespace yubifu::midi
