#include "midi/read/bars.h"

#include <algorithm>
#include <iterator>

#include "base/message.h"
#include "midi/own_text.h"
#include "midi/read/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

constexpr model::Meter kUsualMeter{4, 4};

// Exact: `ppq` is a multiple of every unit that a meter may have.
std::int64_t ticks_of(model::Rational quarters, std::int64_t ppq) {
  return (quarters * model::Rational(ppq)).floor();
}

Bar span_of(std::int64_t begin, const model::Meter& meter, std::int64_t ppq) {
  return {begin, ticks_of(meter.length(), ppq), meter};
}

// A bar of n/4 or n/2 is counted in quarters, one of 6/8 and its like in dotted quarters, others in
// their units where a quarter does not divide the bar.
model::Rational beat_of(const model::Meter& meter) {
  if (meter.is_free()) return 1;
  if (meter.unit == 8 && meter.beats % 3 == 0) return {3, 2};
  return divides(1, meter) ? model::Rational(1) : default_beat(meter);
}

constexpr std::int64_t kPhraseQuarters = 16;
constexpr std::int64_t kLongestPhraseQuarters = 64;

// Cuts the free time [begin, end) into phrases.
void cut_free_time(std::int64_t begin, std::int64_t end, const std::vector<TickSpan>& notes,
                   std::int64_t ppq, std::vector<Bar>& bars) {
  const std::int64_t most = kLongestPhraseQuarters * ppq;
  std::int64_t phrase = begin;
  // A phrase is never longer than the longest: held notes and long rests are parted.
  const auto add_until = [&](std::int64_t until) {
    for (; phrase < until && bars.size() <= kMostBars; phrase += most) {
      bars.push_back({phrase, std::min(most, until - phrase), model::Meter::free_time()});
    }
    phrase = until;
  };
  auto note = std::partition_point(notes.begin(), notes.end(),
                                   [&](const TickSpan& span) { return span.begin < begin; });
  for (; note != notes.end() && note->begin < end; ++note) {
    // The quarter at or before the note, counted from the start of free time.
    const std::int64_t quarter = begin + (note->begin - begin) / ppq * ppq;
    const bool first = note == notes.begin();
    const std::int64_t last_end = first ? begin : std::prev(note)->end;
    const bool silent = quarter >= last_end;
    const bool rested = note->begin - last_end >= ppq && !first;
    const std::int64_t length = quarter - phrase;
    const bool ends = (silent && rested) ||
                      (silent && note->begin == quarter && length >= kPhraseQuarters * ppq) ||
                      length >= most;
    if (ends && length > 0) add_until(quarter);
  }
  add_until(end);
}

// A short single bar takes the meter of its neighbour.
void find_short_ends(const std::vector<Bar>& spans, std::vector<Bar>& bars) {
  if (bars.size() < 2 || spans.size() < 2) return;
  Bar& first = bars.front();
  const Bar& second = bars[1];
  const bool pickup = !first.meter.is_free() && !second.meter.is_free() &&
                      first.length < spans[1].length && second.begin == spans[1].begin;
  if (!pickup) return;
  first.meter = second.meter;
  Bar& last = bars.back();
  const Bar& before = bars[bars.size() - 2];
  const bool completes = bars.size() > 2 && last.meter != before.meter &&
                         before.meter == first.meter && before.length == spans[1].length &&
                         first.length + last.length == before.length;
  if (completes) last.meter = before.meter;
}

}  // namespace

std::vector<Timed<model::Meter>> meter_list(const std::vector<MetaEvent>& metas) {
  std::vector<Timed<model::Meter>> list;
  for (const MetaEvent& meta : metas) {
    if (meta.type == kMeter) {
      const int unit = 1 << static_cast<std::uint8_t>(meta.data[1]);
      list.push_back({meta.tick, {static_cast<std::uint8_t>(meta.data[0]), unit}});
    } else if (own_text(meta) == kFreeTime) {
      list.push_back({meta.tick, model::Meter::free_time()});
    }
  }
  sort_by_tick(list);
  return list;
}

std::vector<Bar> meter_spans(const std::vector<Timed<model::Meter>>& meters,
                             std::optional<model::Meter> otherwise, std::int64_t ppq) {
  const model::Meter without = meters.empty() ? model::Meter::free_time() : kUsualMeter;
  std::vector<Bar> spans{span_of(0, otherwise.value_or(without), ppq)};
  for (const Timed<model::Meter>& meter : meters) {
    const Bar next = span_of(meter.tick, meter.value, ppq);
    const Bar& last = spans.back();
    const bool on_bar_line = last.length == 0 || (next.begin - last.begin) % last.length == 0;
    if (last.meter == next.meter && on_bar_line) continue;
    if (last.begin == next.begin) {
      spans.back() = next;
    } else {
      spans.push_back(next);
    }
  }
  return spans;
}

Beat beat_at(const std::vector<Bar>& spans, std::int64_t ppq, std::int64_t tick) {
  const auto next = std::partition_point(spans.begin(), spans.end(),
                                         [&](const Bar& span) { return span.begin <= tick; });
  const Bar& span = *std::prev(next);
  const model::Rational length = beat_of(span.meter);
  const std::int64_t ticks = ticks_of(length, ppq);
  Beat beat{span.begin + (tick - span.begin) / ticks * ticks, ticks,
            length == model::Rational(3, 2)};
  if (next != spans.end()) beat.length = std::min(beat.length, next->begin - beat.begin);
  return beat;
}

std::size_t bar_at(const std::vector<Bar>& bars, std::int64_t tick) {
  const auto after = std::partition_point(bars.begin(), bars.end(),
                                          [&](const Bar& bar) { return bar.begin <= tick; });
  return after == bars.begin() ? 0 : static_cast<std::size_t>(after - bars.begin()) - 1;
}

base::Outcome<std::vector<Bar>> lay_out_bars(const std::vector<Bar>& spans,
                                             const std::vector<TickSpan>& notes, std::int64_t ppq) {
  std::vector<Bar> bars;
  const std::int64_t music_end = notes.back().end;
  for (std::size_t i = 0; i < spans.size(); ++i) {
    const Bar& span = spans[i];
    if (span.begin >= music_end) break;
    const bool last = i + 1 == spans.size() || spans[i + 1].begin >= music_end;
    if (span.length == 0) {
      const std::int64_t quarters = (music_end - span.begin + ppq - 1) / ppq;
      cut_free_time(span.begin, last ? span.begin + quarters * ppq : spans[i + 1].begin, notes, ppq,
                    bars);
      continue;
    }
    const std::int64_t end = last ? music_end : spans[i + 1].begin;
    for (std::int64_t at = span.begin; at < end && bars.size() <= kMostBars; at += span.length) {
      const std::int64_t length = last ? span.length : std::min(span.length, end - at);
      bars.push_back({at, length, span.meter});
    }
  }
  if (bars.size() > kMostBars) {
    return {
        std::nullopt,
        {base::report(
            rule::too_many_bars, {}, base::message("the music takes more than {} bars", kMostBars),
            base::message(
                "a damaged time or time signature is more likely than so long a piece"))}};
  }
  find_short_ends(spans, bars);
  return {std::move(bars), {}};
}

}  // namespace yubifu::midi
