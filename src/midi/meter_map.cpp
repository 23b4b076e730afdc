#include "midi/meter_map.h"

#include <algorithm>
#include <string_view>

#include "midi/messages.h"
#include "midi/own_text.h"

namespace yubifu::midi {
namespace {

constexpr model::Meter kUsualMeter{4, 4};

// Exact: `ppq` is a multiple of every unit that a meter may have.
std::int64_t ticks_of(model::Rational quarters, std::int64_t ppq) {
  return (quarters * model::Rational(ppq)).floor();
}

MeterSpan span_of(std::int64_t begin, const model::Meter& meter, std::int64_t ppq) {
  return {begin, ticks_of(meter.length(), ppq), meter};
}

// A bar of n/4 or n/2 is counted in quarters, one of 6/8 and its like in dotted quarters, others in
// their units where a quarter does not divide the bar.
model::Rational beat_of(const model::Meter& meter) {
  if (meter.is_free()) return 1;
  if (meter.unit == 8 && meter.beats % 3 == 0) return {3, 2};
  return divides(1, meter) ? model::Rational(1) : default_beat(meter);
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
  std::stable_sort(list.begin(), list.end(),
                   [](const auto& a, const auto& b) { return a.tick < b.tick; });
  return list;
}

std::vector<MeterSpan> meter_spans(const std::vector<Timed<model::Meter>>& meters,
                                   std::optional<model::Meter> otherwise, std::int64_t ppq) {
  const model::Meter without = meters.empty() ? model::Meter::free_time() : kUsualMeter;
  std::vector<MeterSpan> spans{span_of(0, otherwise.value_or(without), ppq)};
  for (const Timed<model::Meter>& meter : meters) {
    const MeterSpan next = span_of(meter.tick, meter.value, ppq);
    const MeterSpan& last = spans.back();
    const bool on_bar_line = last.bar_ticks == 0 || (next.begin - last.begin) % last.bar_ticks == 0;
    if (last.meter == next.meter && on_bar_line) continue;
    if (last.begin == next.begin) {
      spans.back() = next;
    } else {
      spans.push_back(next);
    }
  }
  return spans;
}

Beat BeatWalk::at(std::int64_t tick) {
  while (span_ + 1 < spans_.size() && spans_[span_ + 1].begin <= tick) ++span_;
  const MeterSpan& span = spans_[span_];
  const model::Rational length = beat_of(span.meter);
  const std::int64_t ticks = ticks_of(length, ppq_);
  Beat beat{span.begin + (tick - span.begin) / ticks * ticks, ticks,
            length == model::Rational(3, 2)};
  if (span_ + 1 < spans_.size()) {
    beat.length = std::min(beat.length, spans_[span_ + 1].begin - beat.begin);
  }
  return beat;
}

}  // namespace yubifu::midi
