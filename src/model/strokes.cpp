#include "model/strokes.h"

#include <algorithm>
#include <array>

namespace yubifu::model {
namespace {

constexpr std::string_view kOneBeat = "／";
constexpr std::string_view kOddBeat = "＿";
constexpr std::string_view kEvenBeat = "｜";
constexpr std::array<std::string_view, 3> kStrokes{kOneBeat, kOddBeat, kEvenBeat};

// A stretch of a measure in which the same beat counts.
struct BeatStretch {
  Rational begin;
  Rational end;
  Rational beat;
};

// The directions of one measure, as a half-open range of indexes.
std::pair<std::size_t, std::size_t> directions_of(const Score& score, std::size_t measure) {
  const auto before = [](const Direction& direction, std::size_t at) {
    return direction.measure < at;
  };
  const auto first =
      std::lower_bound(score.directions.begin(), score.directions.end(), measure, before);
  const auto last = std::lower_bound(first, score.directions.end(), measure + 1, before);
  return {static_cast<std::size_t>(first - score.directions.begin()),
          static_cast<std::size_t>(last - score.directions.begin())};
}

std::vector<BeatStretch> beat_stretches(const Score& score, std::size_t index) {
  const Measure& measure = score.measures[index];
  Rational begin;
  std::vector<BeatStretch> stretches;
  if (fraction_comes_first(score, index)) {
    // The incomplete beat at the start is none.
    begin = measure.length - measure.beat * (measure.length / measure.beat).floor();
    stretches.push_back({0, begin, measure.beat});
  }
  stretches.push_back({begin, measure.length, measure.beat});
  const auto [first, last] = directions_of(score, index);
  for (std::size_t i = first; i < last; ++i) {
    const Direction& direction = score.directions[i];
    const auto* change = std::get_if<BeatChange>(&direction.value);
    if (change == nullptr || direction.onset < stretches.back().begin) continue;
    stretches.back().end = direction.onset;
    stretches.push_back({direction.onset, measure.length, change->beat});
  }
  return stretches;
}

// The whole beats of a stretch inside [from, to), from the first beat at or after `from`.
std::int64_t whole_beats(const BeatStretch& stretch, Rational from, Rational to) {
  const Rational first = ((std::max(from, stretch.begin) - stretch.begin) / stretch.beat).ceil();
  const Rational last = ((std::min(to, stretch.end) - stretch.begin) / stretch.beat).floor();
  return std::max<std::int64_t>(0, (last - first).floor());
}

// The whole beats from `from` to `to`, places of one measure.
std::int64_t whole_beats(const Score& score, std::size_t measure, Rational from, Rational to) {
  std::int64_t beats = 0;
  for (const BeatStretch& stretch : beat_stretches(score, measure)) {
    if (stretch.begin < to && from < stretch.end) beats += whole_beats(stretch, from, to);
  }
  return beats;
}

// The first beat after the start of a note, or the end of its beat where another one begins to
// count.
Rational next_beat(const Score& score, const Note& note) {
  for (const BeatStretch& stretch : beat_stretches(score, note.measure)) {
    if (note.onset >= stretch.end) continue;
    const Rational done = (note.onset - stretch.begin) / stretch.beat;
    return std::min(stretch.end, stretch.begin + stretch.beat * (done.floor() + 1));
  }
  return note.onset;
}

}  // namespace

int held_beats(const Score& score, const Note& note) {
  std::int64_t beats = 0;
  Rational from = next_beat(score, note);
  Rational to = note.onset + note.duration;
  for (std::size_t measure = note.measure; measure < score.measures.size(); ++measure) {
    const Rational length = score.measures[measure].length;
    beats += whole_beats(score, measure, from, std::min(to, length));
    if (to <= length) break;
    from = 0;
    to -= length;
  }
  return static_cast<int>(beats);
}

std::string stroke_text(int held_beats) {
  if (held_beats == 1) return std::string(kOneBeat);
  std::string text;
  for (int beat = 1; beat <= held_beats; ++beat) text += beat % 2 == 1 ? kOddBeat : kEvenBeat;
  return text;
}

std::string_view without_strokes(std::string_view text) {
  const auto ends_in = [&](std::string_view stroke) { return text.ends_with(stroke); };
  for (auto stroke = std::find_if(kStrokes.begin(), kStrokes.end(), ends_in);
       stroke != kStrokes.end(); stroke = std::find_if(kStrokes.begin(), kStrokes.end(), ends_in)) {
    text.remove_suffix(stroke->size());
  }
  return text;
}

}  // namespace yubifu::model
