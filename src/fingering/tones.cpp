#include "fingering/tones.h"

#include <algorithm>
#include <utility>

namespace yubifu::fingering {
namespace {

constexpr double kGraceQuarters = 0.125;
constexpr double kMostGraceShare = 0.5;

}  // namespace

// Times are floating-point numbers, which cannot overflow and are fine enough for "short".
std::vector<TimedTone> timed_tones(const model::Score& score) {
  const std::vector<double> starts = model::measure_starts(score);
  std::vector<TimedTone> tones;
  double quarters = 0;  // of the place that the tempos were followed to,
  double seconds = 0;   // and its time
  double seconds_per_quarter = 0;
  double last_start = 0;
  const auto set = [&](const model::Tempo& tempo) {
    seconds_per_quarter = 60 / (tempo.per_minute.as_double() * tempo.unit.as_double());
  };
  const auto advance_to = [&](std::size_t measure, model::Rational onset) {
    const double place = starts[measure] + onset.as_double();
    seconds += (place - quarters) * seconds_per_quarter;
    quarters = place;
  };
  set(score.header.tempo.value_or(model::kDefaultTempo));
  auto direction = score.directions.begin();
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const model::Note& note = score.notes[i];
    const auto place = std::pair(note.measure, note.onset);
    for (; direction != score.directions.end() &&
           std::pair(direction->measure, direction->onset) <= place;
         ++direction) {
      advance_to(direction->measure, direction->onset);
      if (const auto* change = std::get_if<model::TempoChange>(&direction->value)) {
        set(change->tempo);
      }
    }
    advance_to(note.measure, note.onset);
    const double duration = note.duration.as_double();
    const auto graces = static_cast<double>(note.grace_count());
    const double grace =
        graces == 0 ? 0 : std::min(kGraceQuarters, kMostGraceShare * duration / graces);
    double at = 0;
    const auto add = [&](ToneRole role, std::size_t index, double length) {
      const double start = seconds + at * seconds_per_quarter;
      tones.push_back({{i, role, index}, start - last_start, length * seconds_per_quarter});
      last_start = start;
      at += length;
    };
    for (std::size_t g = 0; g < note.grace_before.size(); ++g)
      add(ToneRole::grace_before, g, grace);
    add(ToneRole::main, 0, duration - grace * graces);
    for (std::size_t g = 0; g < note.grace_after.size(); ++g) add(ToneRole::grace_after, g, grace);
  }
  return tones;
}

const model::Tone& tone_at(const model::Score& score, const TonePlace& place) {
  const model::Note& note = score.notes[place.note];
  if (place.role == ToneRole::main) return note.tone;
  return (place.role == ToneRole::grace_before ? note.grace_before : note.grace_after)[place.index];
}

model::Tone& tone_at(model::Score& score, const TonePlace& place) {
  return const_cast<model::Tone&>(tone_at(std::as_const(score), place));
}

}  // namespace yubifu::fingering
