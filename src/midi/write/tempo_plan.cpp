#include "midi/write/tempo_plan.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <variant>

#include "model/rhythm_tree.h"

namespace yubifu::midi {
namespace {

constexpr double kSlower = 3.0 / 4;
constexpr double kFaster = 4.0 / 3;
constexpr int kLongestRampQuarters = 8;
constexpr int kRampStepsPerQuarter = 2;
constexpr double kFermata = 0.5;

enum class Change { set, rit, accel, a_tempo };

struct TempoCue {
  std::int64_t tick = 0;
  Change change = Change::set;
  double tempo = 0;  ///< quarters a minute, for `set`
};

std::optional<TempoCue> cue_of(const model::DirectionValue& value) {
  if (const auto* set = std::get_if<model::TempoChange>(&value)) {
    return TempoCue{0, Change::set, set->tempo.quarters_per_minute().as_double()};
  }
  const auto* cue = std::get_if<model::Cue>(&value);
  if (cue == nullptr) return std::nullopt;
  if (*cue == model::Cue::rit) return TempoCue{0, Change::rit, 0};
  if (*cue == model::Cue::accel) return TempoCue{0, Change::accel, 0};
  if (*cue == model::Cue::a_tempo) return TempoCue{0, Change::a_tempo, 0};
  return std::nullopt;
}

std::vector<TempoCue> tempo_cues(const model::Score& played, const ScoreClock& clock) {
  const model::Tempo start = played.header.tempo.value_or(model::kDefaultTempo);
  std::vector<TempoCue> cues{{0, Change::set, start.quarters_per_minute().as_double()}};
  for (const model::Direction& direction : played.directions) {
    if (auto cue = cue_of(direction.value)) {
      cue->tick = clock.tick(direction.measure, direction.onset);
      cues.push_back(*cue);
    }
  }
  return cues;
}

// Where a ramp leads: the tempo set next, if it lies that way.
double ramp_target(const TempoCue& ramp, const TempoCue* next, double from) {
  const bool slower = ramp.change == Change::rit;
  if (next != nullptr && next->change == Change::set) {
    const bool that_way = slower ? next->tempo < from : next->tempo > from;
    if (that_way) return next->tempo;
  }
  return from * (slower ? kSlower : kFaster);
}

// The line of tempos without fermatas.
std::vector<Timed<double>> base_line(const std::vector<TempoCue>& cues, const ScoreClock& clock) {
  std::vector<Timed<double>> line;
  double now = 0;
  double steady = 0;
  const auto go = [&](std::int64_t tick, double tempo) {
    now = tempo;
    if (!line.empty() && line.back().tick == tick) line.pop_back();
    line.push_back({tick, tempo});
  };
  for (std::size_t i = 0; i < cues.size(); ++i) {
    const TempoCue& cue = cues[i];
    const TempoCue* next = i + 1 < cues.size() ? &cues[i + 1] : nullptr;
    if (cue.change == Change::set) go(cue.tick, steady = cue.tempo);
    if (cue.change == Change::a_tempo) go(cue.tick, steady);
    if (cue.change != Change::rit && cue.change != Change::accel) continue;
    const std::int64_t until = next != nullptr ? next->tick : std::llround(clock.end());
    const std::int64_t length =
        std::min<std::int64_t>(until - cue.tick, std::int64_t{kLongestRampQuarters} * clock.ppq());
    const std::int64_t steps =
        std::min(length, (length * kRampStepsPerQuarter + clock.ppq() - 1) / clock.ppq());
    const double from = now;
    const double target = ramp_target(cue, next, from);
    for (std::int64_t step = 0; step < steps; ++step) {
      const double share = static_cast<double>(step + 1) / static_cast<double>(steps);
      // Exactly the target in the end, so that a tempo set there is no new one.
      const double tempo = step + 1 == steps ? target : from + (target - from) * share;
      go(cue.tick + length * step / steps, tempo);
    }
  }
  return line;
}

struct Span {
  std::int64_t begin = 0;
  std::int64_t end = 0;
};

std::vector<Span> fermatas(const model::Score& played, const ScoreClock& clock) {
  std::vector<Span> spans;
  for (const model::Note& note : played.notes) {
    if (!note.has(model::Mark::fermata)) continue;
    spans.push_back({clock.tick(note.measure, note.onset),
                     clock.tick(note.measure, note.onset + note.duration)});
  }
  const auto held = [](const model::Rest& rest) {
    return std::find(rest.marks.begin(), rest.marks.end(), model::Mark::fermata) !=
           rest.marks.end();
  };
  if (std::any_of(played.rests.begin(), played.rests.end(), held)) {
    const std::vector<model::BarContent> bars = bar_contents(played);
    for (std::size_t bar = 0; bar < bars.size(); ++bar) {
      for (const model::BarSpan& span : bars[bar].spans) {
        if (!span.rest || !held(played.rests[*span.rest])) continue;
        spans.push_back({clock.tick(bar, span.begin), clock.tick(bar, span.end)});
      }
    }
  }
  std::sort(spans.begin(), spans.end(),
            [](const Span& a, const Span& b) { return a.begin < b.begin; });
  return spans;
}

}  // namespace

TempoPlan plan_tempo(const model::Score& played, const ScoreClock& clock) {
  std::vector<Timed<double>> line = base_line(tempo_cues(played, clock), clock);
  const std::vector<Span> spans = fermatas(played, clock);
  std::vector<std::int64_t> ticks;
  for (const Timed<double>& tempo : line) ticks.push_back(tempo.tick);
  for (const Span& span : spans) ticks.insert(ticks.end(), {span.begin, span.end});
  std::sort(ticks.begin(), ticks.end());
  ticks.erase(std::unique(ticks.begin(), ticks.end()), ticks.end());
  std::vector<Timed<double>> result;
  std::size_t in_line = 0;
  std::size_t in_spans = 0;
  for (const std::int64_t tick : ticks) {
    while (in_line + 1 < line.size() && line[in_line + 1].tick <= tick) ++in_line;
    while (in_spans < spans.size() && spans[in_spans].end <= tick) ++in_spans;
    const bool held = in_spans < spans.size() && spans[in_spans].begin <= tick;
    const double tempo = line[in_line].value * (held ? kFermata : 1);
    if (result.empty() || result.back().value != tempo) result.push_back({tick, tempo});
  }
  return {std::move(line), std::move(result)};
}

}  // namespace yubifu::midi
