#include "midi/read/tempos.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

#include "midi/smf/events.h"
#include "midi/smf/scan.h"

namespace yubifu::midi {
namespace {

// A quarter note until a file says otherwise (SMF 1.1: 120 a minute).
constexpr std::uint32_t kUsualMicroseconds = 500'000;
// A multiple of every division that the quantiser knows.
constexpr int kTicksForSeconds = 10'080;
constexpr double kMicrosecondsPerSecond = 1e6;
constexpr double kDropFrameRate = 30'000.0 / 1001;  // what 29 stands for (SMPTE 12M)

constexpr std::int64_t kMostScale = 1000;  // three decimals

// What a score can say of a tempo (model/meter.h).
constexpr double kFastest = 1000;
constexpr int kLongestUnit = 8;  // quarter notes

// A fermata: how many times longer a quarter note gets.
constexpr double kLeastFermata = 1.6;
constexpr double kMostFermata = 2.5;

constexpr std::size_t kFewestSteps = 3;
constexpr int kStepQuarters = 2;
constexpr double kMostStep = 1.25;

using Microseconds = Timed<std::uint32_t>;

double ratio(std::uint32_t a, std::uint32_t b) {
  return static_cast<double>(a) / static_cast<double>(b);
}

// Rounding may differ by one when a tempo is scaled and scaled back.
bool is_same(std::uint32_t a, std::uint32_t b) {
  return std::abs(static_cast<std::int64_t>(a) - static_cast<std::int64_t>(b)) <= 1;
}

// True when the tempo at `i`, unlike `before`, holds for just one note.
bool is_fermata(const std::vector<Microseconds>& tempos, std::size_t i, std::uint32_t before,
                const std::vector<TickSpan>& notes, std::size_t note) {
  const double slower = ratio(tempos[i].value, before);
  if (slower < kLeastFermata || slower > kMostFermata) return false;
  if (note == notes.size() || notes[note].begin != tempos[i].tick) return false;
  if (i + 1 == tempos.size()) return note + 1 == notes.size();
  return tempos[i + 1].tick == notes[note].end && is_same(tempos[i + 1].value, before);
}

// One past the last step of the ramp that begins with the tempo at `first`.
std::size_t ramp_end(const std::vector<Microseconds>& tempos, std::size_t first, std::int64_t ppq) {
  if (first == 0) return first + 1;
  const bool slower = tempos[first].value > tempos[first - 1].value;
  std::size_t i = first;
  for (; i < tempos.size(); ++i) {
    const std::uint32_t now = tempos[i].value;
    const std::uint32_t last = tempos[i - 1].value;
    const double step = slower ? ratio(now, last) : ratio(last, now);
    const bool near = i == first || tempos[i].tick - tempos[i - 1].tick <= kStepQuarters * ppq;
    if (step <= 1 || step > kMostStep || !near) break;
  }
  return std::max(i, first + 1);
}

}  // namespace

std::vector<Timed<std::uint32_t>> tempo_list(const std::vector<MetaEvent>& metas) {
  std::vector<Timed<std::uint32_t>> all{{0, kUsualMicroseconds}};
  for (const MetaEvent& meta : metas) {
    if (meta.type == kTempo) all.push_back({meta.tick, from_big_endian(meta.data)});
  }
  return changes_only(std::move(all));
}

MusicalTime to_musical_time(ScannedFile& file, std::vector<ChannelEvent>& events) {
  if (!file.division.frames_per_second) return {file.division.ticks, 0};
  const int named = *file.division.frames_per_second;
  const double frames = named == 29 ? kDropFrameRate : named;
  const double microseconds = kMicrosecondsPerSecond / (frames * file.division.ticks);
  struct Stretch {
    double begin = 0;  // in ticks of music
    double ticks = 0;  // of music, in one of film
  };
  MusicalTime time{kTicksForSeconds, 0};
  std::vector<Timed<Stretch>> stretches;
  double begin = 0;
  for (const Timed<std::uint32_t>& tempo : tempo_list(file.metas)) {
    if (!stretches.empty()) {
      const auto& [tick, last] = stretches.back();
      begin += static_cast<double>(tempo.tick - tick) * last.ticks;
    }
    const double ticks = microseconds * kTicksForSeconds / tempo.value;
    stretches.push_back({tempo.tick, {begin, ticks}});
    time.slack = std::max(time.slack, ticks);
  }
  const auto move = [&](std::int64_t& at) {
    const auto& [tick, stretch] = in_force(stretches, at);
    at = std::llround(stretch.begin + static_cast<double>(at - tick) * stretch.ticks);
  };
  for (ChannelEvent& event : events) move(event.tick);
  for (MetaEvent& meta : file.metas) move(meta.tick);
  for (std::int64_t& end : file.track_ends) move(end);
  return time;
}

double milliseconds_per_tick(const std::vector<Timed<std::uint32_t>>& tempos, std::int64_t ppq,
                             std::int64_t tick) {
  constexpr double kMicrosecondsPerMillisecond = 1000;
  return in_force(tempos, tick).value / kMicrosecondsPerMillisecond / static_cast<double>(ppq);
}

ReadTempos read_tempos(const std::vector<Timed<std::uint32_t>>& tempos,
                       const std::vector<TickSpan>& notes, std::int64_t ppq,
                       const std::function<model::Rational(std::int64_t)>& unit_at) {
  ReadTempos result;
  std::vector<Microseconds> steady;  // every tempo that is not a fermata
  std::size_t note = 0;
  for (std::size_t i = 0; i < tempos.size(); ++i) {
    while (note < notes.size() && notes[note].begin < tempos[i].tick) ++note;
    if (!steady.empty() && is_fermata(tempos, i, steady.back().value, notes, note)) {
      result.fermatas.push_back(note);
      ++i;
    } else {
      steady.push_back(tempos[i]);
    }
  }
  const auto add = [&](std::int64_t tick, model::DirectionValue value) {
    result.directions.push_back({tick, std::move(value)});
  };
  const auto add_tempo = [&](const Microseconds& tempo) {
    add(tempo.tick, model::TempoChange{simplest_tempo(tempo.value, unit_at(tempo.tick))});
  };
  for (std::size_t i = 0; i < steady.size();) {
    const std::size_t end = ramp_end(steady, i, ppq);
    if (i == 0 || end - i < kFewestSteps) {
      add_tempo(steady[i++]);
      continue;
    }
    const bool slower = steady[i].value > steady[i - 1].value;
    add(steady[i].tick, slower ? model::Cue::rit : model::Cue::accel);
    // What follows a ramp says where it went: back to the tempo before, or to another.
    if (end < steady.size() && is_same(steady[end].value, steady[i - 1].value)) {
      add(steady[end].tick, model::Cue::a_tempo);
    } else if (end < steady.size()) {
      add_tempo(steady[end]);
    }
    i = std::min(end + 1, steady.size());
  }
  return result;
}

model::Tempo simplest_tempo(std::uint32_t microseconds, model::Rational unit) {
  const auto per_minute = [&] { return kMicrosecondsPerMinute / microseconds / unit.as_double(); };
  while (per_minute() > kFastest && unit * 2 <= model::Rational(kLongestUnit)) unit = unit * 2;
  const double exact = per_minute();
  for (std::int64_t scale = 1; scale < kMostScale; scale *= 10) {
    const auto scaled = std::llround(exact * static_cast<double>(scale));
    if (scaled == 0) continue;
    const model::Tempo tempo{{scaled, scale}, unit};
    const double back = kMicrosecondsPerMinute / tempo.quarters_per_minute().as_double();
    if (std::llround(back) == microseconds) return tempo;
  }
  const auto scaled = std::max<std::int64_t>(1, std::llround(exact * kMostScale));
  return {{scaled, kMostScale}, unit};
}

}  // namespace yubifu::midi
