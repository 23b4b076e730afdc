#include "fingering/tones.h"

#include <algorithm>
#include <utility>

namespace yubifu::fingering {
namespace {

constexpr double kGraceQuarters = 0.125;
constexpr double kMostGraceShare = 0.5;

// Walks notes and tempo changes side by side; times in quarters are told as floating-point
// numbers, which cannot overflow and are fine enough for "short".
class Clock {
 public:
  explicit Clock(const model::Score& score)
      : score_(score), measure_starts_(model::measure_starts(score)) {
    if (score.header.tempo) set(*score.header.tempo);
  }

  // Seconds from the start of the score to a note; notes must come in order.
  double seconds_at(const model::Note& note) {
    while (next_direction_ < score_.directions.size()) {
      const model::Direction& direction = score_.directions[next_direction_];
      const bool later = direction.measure != note.measure ? direction.measure > note.measure
                                                           : direction.onset > note.onset;
      if (later) break;
      advance_to(quarters_at(direction.measure, direction.onset));
      if (const auto* change = std::get_if<model::TempoChange>(&direction.value)) {
        set(change->tempo);
      }
      ++next_direction_;
    }
    advance_to(quarters_at(note.measure, note.onset));
    return seconds_;
  }

  // At the tempo in force at the note asked for last.
  double seconds(double quarters) const { return quarters * seconds_per_quarter_; }

 private:
  double quarters_at(std::size_t measure, model::Rational onset) const {
    return measure_starts_[measure] + onset.as_double();
  }

  void advance_to(double quarters) {
    seconds_ += seconds(quarters - quarters_);
    quarters_ = quarters;
  }

  void set(const model::Tempo& tempo) {
    seconds_per_quarter_ = 60 / (tempo.per_minute.as_double() * tempo.unit.as_double());
  }

  const model::Score& score_;
  std::vector<double> measure_starts_;
  std::size_t next_direction_ = 0;
  double quarters_ = 0;
  double seconds_ = 0;
  double seconds_per_quarter_ =
      60 / (model::kDefaultTempo.per_minute.as_double() * model::kDefaultTempo.unit.as_double());
};

// Puts the tones of one score in a row; `seconds_into` is the distance of their starts.
class ToneRow {
 public:
  void add(const TonePlace& place, double start, double seconds) {
    tones_.push_back({place, start - last_start_, seconds});
    last_start_ = start;
  }

  std::vector<TimedTone> take() { return std::move(tones_); }

 private:
  std::vector<TimedTone> tones_;
  double last_start_ = 0;
};

void add_note(ToneRow& row, const model::Note& note, std::size_t index, double start,
              const Clock& clock) {
  const double quarters = note.duration.as_double();
  const std::size_t graces = note.grace_count();
  double grace = 0;
  if (graces > 0) {
    grace = std::min(kGraceQuarters, kMostGraceShare * quarters / static_cast<double>(graces));
  }
  double at = 0;
  const auto add = [&](ToneRole role, std::size_t i, double length) {
    row.add({index, role, i}, start + clock.seconds(at), clock.seconds(length));
    at += length;
  };
  for (std::size_t i = 0; i < note.grace_before.size(); ++i) add(ToneRole::grace_before, i, grace);
  add(ToneRole::main, 0, quarters - grace * static_cast<double>(graces));
  for (std::size_t i = 0; i < note.grace_after.size(); ++i) add(ToneRole::grace_after, i, grace);
}

}  // namespace

std::vector<TimedTone> timed_tones(const model::Score& score) {
  Clock clock(score);
  ToneRow row;
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const double start = clock.seconds_at(score.notes[i]);
    add_note(row, score.notes[i], i, start, clock);
  }
  return row.take();
}

const model::Tone& tone_at(const model::Score& score, const TonePlace& place) {
  const model::Note& note = score.notes[place.note];
  switch (place.role) {
    case ToneRole::grace_before:
      return note.grace_before[place.index];
    case ToneRole::grace_after:
      return note.grace_after[place.index];
    case ToneRole::main:
      return note.tone;
  }
  return note.tone;
}

model::Tone& tone_at(model::Score& score, const TonePlace& place) {
  return const_cast<model::Tone&>(tone_at(std::as_const(score), place));
}

}  // namespace yubifu::fingering
