#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "base/message.h"
#include "midi/smf/events.h"
#include "midi/write/performance.h"
#include "midi/write/rules.h"
#include "midi/write/tick_grid.h"

namespace yubifu::midi {
namespace {

// The second part of a bar that a repeat sign parts has the number of the first.
bool is_rest_of(const SoundingBar& bar, const SoundingBar& next) {
  const bool full = bar.meter.is_free() || bar.length + next.length > bar.meter.length();
  return bar.number == next.number && bar.written != next.written && !full;
}

bool is_in(const BarRange& range, const SoundingBar& bar) {
  return bar.number >= range.first && bar.number <= range.last;
}

// The shortest stretch from the first bar to the last in which every bar between them is played, so
// that a repeat inside is played out only for what it leaves out at first; of two with as many bars
// the one with whole bars. Without one, from the first time the first bar is played to the next
// time the last one has been.
std::optional<TickSpan> find_bars(const std::vector<SoundingBar>& bars, const BarRange& range) {
  std::set<int> wanted;
  for (const SoundingBar& bar : bars) {
    if (is_in(range, bar)) wanted.insert(bar.number);
  }
  using Stretch = std::pair<std::size_t, std::size_t>;  // the indexes of its first and last bar
  const auto length = [&](const Stretch& stretch) {
    const auto [first, last] = stretch;
    return std::pair(last - first, bars[first].begin - bars[last].end);
  };
  std::optional<Stretch> best;
  std::vector<std::size_t> starts;         // where the first bar is played
  std::map<int, std::size_t> last_played;  // each bar of the range, so far
  for (std::size_t i = 0; i < bars.size(); ++i) {
    const SoundingBar& bar = bars[i];
    if (!is_in(range, bar)) continue;
    const bool goes_on = i > 0 && is_rest_of(bars[i - 1], bar);
    if (!goes_on) last_played[bar.number] = i;
    if (!goes_on && bar.number == range.first) starts.push_back(i);
    const bool whole = i + 1 == bars.size() || !is_rest_of(bar, bars[i + 1]);
    if (!whole || bar.number != range.last || last_played.size() < wanted.size()) continue;
    const auto earliest =
        std::min_element(last_played.begin(), last_played.end(),
                         [](const auto& a, const auto& b) { return a.second < b.second; });
    const auto after = std::upper_bound(starts.begin(), starts.end(), earliest->second);
    if (after == starts.begin()) continue;
    const Stretch found{*std::prev(after), i};
    if (!best || length(found) < length(*best)) best = found;
  }
  if (best) return TickSpan{bars[best->first].begin, bars[best->second].end};
  const auto number_is = [](int number) {
    return [number](const SoundingBar& bar) { return bar.number == number; };
  };
  const auto first = std::find_if(bars.begin(), bars.end(), number_is(range.first));
  const auto last = std::find_if(first, bars.end(), number_is(range.last));
  if (last == bars.end()) return std::nullopt;
  return TickSpan{first->begin, last->end};
}

std::string why_not_found(const std::vector<SoundingBar>& bars, const BarRange& range) {
  std::set<int> numbers;
  for (const SoundingBar& bar : bars) {
    if (bar.number >= 0) numbers.insert(bar.number);
  }
  for (const int wanted : {range.first, range.last}) {
    if (numbers.contains(wanted)) continue;
    if (numbers.empty()) return base::message("there is no bar {}: no bar has a number", wanted);
    return base::message("there is no bar {}: the bars that are played are {} to {}", wanted,
                         *numbers.begin(), *numbers.rbegin());
  }
  return base::message("bar {} is never played after bar {}", range.last, range.first);
}

// What holds at the start of the window stands there; what follows moves with it.
template <typename T>
void cut_states(std::vector<Timed<T>>& list, const TickSpan& window) {
  std::vector<Timed<T>> kept;
  for (const Timed<T>& entry : list) {
    if (entry.tick >= window.end) break;
    const std::int64_t tick = std::max<std::int64_t>(0, entry.tick - window.begin);
    if (tick == 0) kept.clear();
    kept.push_back({tick, entry.value});
  }
  list = std::move(kept);
}

template <typename T>
void cut_places(std::vector<Timed<T>>& list, const TickSpan& window) {
  std::erase_if(list, [&](const Timed<T>& entry) {
    return entry.tick < window.begin || entry.tick >= window.end;
  });
  for (Timed<T>& entry : list) entry.tick -= window.begin;
}

// A note that reaches over the border sounds on this side of it.
template <typename T>
void cut_spans(std::vector<T>& list, const TickSpan& window) {
  std::erase_if(
      list, [&](const T& span) { return span.end <= window.begin || span.begin >= window.end; });
  for (T& span : list) {
    span.begin = std::max(span.begin, window.begin) - window.begin;
    span.end = std::min(span.end, window.end) - window.begin;
  }
}

void cut(Performance& performance, const TickSpan& window) {
  cut_spans(performance.notes, window);
  cut_spans(performance.bars, window);
  cut_states(performance.tempos, window);
  cut_states(performance.counted, window);
  cut_states(performance.meters, window);
  cut_states(performance.keys, window);
  cut_states(performance.flutes, window);
  cut_places(performance.sections, window);
  cut_places(performance.texts, window);
  performance.end = window.end - window.begin;
}

template <typename Entry>
void move_later(Entry& entry, std::int64_t ticks) {
  if constexpr (requires { entry.tick; }) {
    entry.tick += ticks;
  } else {
    entry.begin += ticks;
    entry.end += ticks;
  }
}

template <typename List>
void repeat(List& list, int times, std::int64_t length) {
  if (times == 1) return;
  const List once = list;
  list.reserve(once.size() * static_cast<std::size_t>(times));
  for (int time = 1; time < times; ++time) {
    for (auto entry : once) {
      move_later(entry, time * length);
      list.push_back(std::move(entry));
    }
  }
}

// Calls `change` with every list of the performance.
template <typename Change>
void for_each_list(Performance& performance, Change change) {
  change(performance.notes);
  change(performance.tempos);
  change(performance.counted);
  change(performance.meters);
  change(performance.keys);
  change(performance.sections);
  change(performance.texts);
  change(performance.flutes);
  change(performance.bars);
  change(performance.clicks);
}

void click_through(std::int64_t begin, std::int64_t end, std::int64_t beat, Stroke first,
                   std::vector<Timed<Stroke>>& clicks) {
  for (std::int64_t tick = begin; tick < end; tick += beat) {
    clicks.push_back({tick, tick == begin ? first : Stroke::beat});
  }
}

// Moves everything later by the length of the count-in, which takes the state of the start.
void count_in(Performance& performance, int bars) {
  const SoundingBar& first = performance.bars.front();
  const std::int64_t full = to_ticks(first.meter.length(), performance.ppq);
  const std::int64_t lacking = std::max<std::int64_t>(0, full - (first.end - first.begin));
  const std::int64_t lead = bars * full + lacking;
  const std::int64_t beat = beat_ticks(first.meter, performance.ppq);
  for_each_list(performance, [lead](auto& list) {
    for (auto& entry : list) move_later(entry, lead);
  });
  performance.end += lead;
  const auto begin_with = [](auto& list, const auto& value) {
    if (list.empty() || list.front().value != value) list.insert(list.begin(), {0, value});
    list.front().tick = 0;
  };
  // A fermata on the first note does not slow the count.
  begin_with(performance.tempos, performance.counted.front().value);
  if (!performance.keys.empty() && performance.keys.front().tick == lead) {
    performance.keys.front().tick = 0;
  }
  // A short first bar ends the count-in's last full bar, so that one meter serves both.
  if (lacking > 0) performance.meters.erase(performance.meters.begin());
  begin_with(performance.meters, first.meter);
  std::vector<Timed<Stroke>> clicks;
  for (std::int64_t bar = 0; bar < lead; bar += full) {
    click_through(bar, std::min(bar + full, lead), beat, Stroke::bar, clicks);
  }
  performance.clicks.insert(performance.clicks.begin(), clicks.begin(), clicks.end());
}

}  // namespace

std::int64_t beat_ticks(const model::Meter& meter, int ppq) {
  const model::Rational beat = felt_beat(meter, default_beat(meter));
  return std::max<std::int64_t>(1, to_ticks(beat, ppq));
}

std::vector<Timed<Stroke>> bar_clicks(const Performance& performance) {
  std::vector<Timed<Stroke>> clicks;
  for (const SoundingBar& bar : performance.bars) {
    if (bar.meter.is_free()) continue;
    const std::int64_t beat = beat_ticks(bar.meter, performance.ppq);
    const std::int64_t before = bar.pickup ? (bar.end - bar.begin) % beat : 0;
    click_through(bar.begin + before, bar.end, beat, bar.pickup ? Stroke::beat : Stroke::bar,
                  clicks);
  }
  return clicks;
}

base::Outcome<Performance> practise(Performance performance, const Practice& practice) {
  if (practice.bars) {
    const auto window = find_bars(performance.bars, *practice.bars);
    if (!window) {
      return {std::nullopt,
              {base::report(rule::bars_not_played, {},
                            why_not_found(performance.bars, *practice.bars))}};
    }
    cut(performance, *window);
  }
  for (auto* tempos : {&performance.tempos, &performance.counted}) {
    for (Timed<double>& tempo : *tempos) tempo.value *= practice.tempo_percent / 100.0;
  }
  const std::int64_t length = performance.end;
  if (length * practice.times > kMostTicks) {
    return {std::nullopt,
            {base::report(
                rule::music_too_long, {},
                base::message("played {} times, the music lasts more ticks than a MIDI file holds",
                              practice.times))}};
  }
  for_each_list(performance, [&](auto& list) { repeat(list, practice.times, length); });
  performance.end = length * practice.times;
  base::Outcome<Performance> result;
  const std::vector<SoundingBar>& bars = performance.bars;
  const bool clicks = practice.click == Click::on;
  const bool counted = !std::all_of(bars.begin(), bars.end(),
                                    [](const SoundingBar& bar) { return bar.meter.is_free(); });
  const bool can_count_in = !bars.empty() && !bars.front().meter.is_free();
  const bool count_in_wanted = practice.count_in_bars > 0;
  if ((clicks && !counted) || (count_in_wanted && !can_count_in)) {
    result.diagnostics.push_back(base::report(
        rule::no_click, {},
        count_in_wanted && counted
            ? base::message("the music begins in free time, where nothing is counted: there is no "
                            "count-in")
            : base::message("nothing is counted in free time: there is no click")));
  }
  if (clicks) performance.clicks = bar_clicks(performance);
  if (count_in_wanted && can_count_in) count_in(performance, practice.count_in_bars);
  if (performance.end > kMostTicks) {
    result.diagnostics.push_back(base::report(
        rule::music_too_long, {},
        base::message("with its count-in, the music lasts more ticks than a MIDI file holds")));
    return result;
  }
  result.value = std::move(performance);
  return result;
}

}  // namespace yubifu::midi
