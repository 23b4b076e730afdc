#include "midi/read/played_clock.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <numbers>
#include <utility>

namespace yubifu::midi {

namespace {

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

// The ticks of a file in milliseconds from its start.
class RealTime {
 public:
  explicit RealTime(const FileClock& clock) {
    double now = 0;
    for (const auto& tempo : clock.tempos) {
      const auto tick = static_cast<double>(tempo.tick);
      if (!spans_.empty()) now = at(spans_.back(), tick);
      spans_.push_back({tick, now, tempo.value / 1000.0 / clock.time.ppq});
    }
  }

  double milliseconds(double tick) const {
    return at(span([&](const Span& s) { return s.tick <= tick; }), tick);
  }
  double tick(double milliseconds) const {
    const Span& s = span([&](const Span& one) { return one.milliseconds <= milliseconds; });
    return s.tick + (milliseconds - s.milliseconds) / s.per_tick;
  }

  std::vector<double> onsets(const std::vector<TickSpan>& notes) const {
    std::vector<double> times;
    times.reserve(notes.size());
    for (const TickSpan& note : notes) {
      times.push_back(milliseconds(static_cast<double>(note.begin)));
    }
    return times;
  }

 private:
  struct Span {
    double tick = 0;
    double milliseconds = 0;
    double per_tick = 0;
  };

  static double at(const Span& span, double tick) {
    return span.milliseconds + (tick - span.tick) * span.per_tick;
  }

  template <typename Before>
  const Span& span(Before before) const {
    const auto after = std::partition_point(spans_.begin(), spans_.end(), before);
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
        first_period_(period),
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
  // BeatPlaces in beats, and the times at which they were met.
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
  double first_period_;
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

}  // namespace

const BeatPlaces& usual_places(bool compound) {
  static const BeatPlaces simple_time{{0, 0.8},     {0.5, 0.35},     {0.25, 0.12},
                                      {0.75, 0.16}, {1.0 / 3, 0.05}, {2.0 / 3, 0.07}};
  static const BeatPlaces compound_time{{0, 0.8},        {1.0 / 3, 0.35}, {2.0 / 3, 0.45},
                                        {1.0 / 6, 0.04}, {0.5, 0.08},     {5.0 / 6, 0.06}};
  return compound ? compound_time : simple_time;
}

const std::vector<BeatPlaces>& feels() {
  static const std::vector<BeatPlaces> list{usual_places(false),
                                            usual_places(true),
                                            {{0, 0.8}, {0.54, 0.5}},
                                            {{0, 0.8}, {0.58, 0.5}},
                                            {{0, 0.8}, {0.62, 0.5}}};
  return list;
}

double onset_density(const BeatPlaces& places, double at, double milliseconds, double variance) {
  double sum = kStrayRate;
  for (const BeatPlace& place : places) {
    const double error = at - place.at - std::round(at - place.at);
    sum += place.rate * normal_density(error * milliseconds, variance);
  }
  return sum;
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
