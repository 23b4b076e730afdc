#include "model/bar_content.h"

#include <algorithm>

namespace yubifu::model {
namespace {

// Adds a rest over [begin, end), parted where a marked rest or a direction stands.
void add_rest(const Score& score, const BarContent& bar, std::size_t measure, Rational begin,
              Rational end, std::size_t& next_rest, std::vector<BarSpan>& spans) {
  std::vector<Rational> cuts{begin};
  for (const std::size_t index : bar.directions) {
    const Rational onset = score.directions[index].onset;
    if (onset > begin && onset < end) cuts.push_back(onset);
  }
  const std::size_t first_rest = next_rest;
  while (next_rest < score.rests.size() && score.rests[next_rest].measure == measure &&
         score.rests[next_rest].onset < end) {
    cuts.push_back(score.rests[next_rest++].onset);
  }
  std::sort(cuts.begin(), cuts.end());
  cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    BarSpan span{cuts[i], i + 1 < cuts.size() ? cuts[i + 1] : end, {}, {}, false, false};
    for (std::size_t rest = first_rest; rest < next_rest; ++rest) {
      if (score.rests[rest].onset == cuts[i]) span.rest = rest;
    }
    spans.push_back(span);
  }
}

}  // namespace

std::vector<BarContent> bar_contents(const Score& score) {
  std::vector<BarContent> bars(score.measures.size());
  for (std::size_t i = 0; i < score.directions.size(); ++i) {
    bars[score.directions[i].measure].directions.push_back(i);
  }
  std::size_t next_note = 0;
  std::size_t next_rest = 0;
  std::optional<std::size_t> held;  // the note that reaches over the bar line
  Rational still_held;
  for (std::size_t measure = 0; measure < score.measures.size(); ++measure) {
    const Rational length = score.measures[measure].length;
    BarContent& bar = bars[measure];
    Rational now;
    const auto place = [&](std::size_t note, Rational begin, Rational duration, bool held_in) {
      const Rational end = begin + duration;
      const bool held_out = end > length;
      bar.spans.push_back({begin, held_out ? length : end, note, {}, held_in, held_out});
      now = bar.spans.back().end;
      held = held_out ? std::optional(note) : std::nullopt;
      still_held = held_out ? end - length : Rational(0);
    };
    // A bar of no length (free time) has no span; the note goes on behind it.
    if (held && length > Rational(0)) place(*held, 0, still_held, true);
    while (next_note < score.notes.size() && score.notes[next_note].measure == measure) {
      const Note& note = score.notes[next_note];
      if (note.onset > now) {
        add_rest(score, bar, measure, now, note.onset, next_rest, bar.spans);
      }
      place(next_note++, note.onset, note.duration, false);
    }
    if (now < length) add_rest(score, bar, measure, now, length, next_rest, bar.spans);
  }
  return bars;
}

}  // namespace yubifu::model
