#include "musicxml/bar_map.h"

#include <algorithm>
#include <optional>
#include <string_view>

#include "musicxml/bar_lines.h"
#include "musicxml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;

// Where the notes and rests of the melody end, rests for the whole bar aside.
Rational melody_end(const PartEvents& part, std::size_t measure, const MelodyChoice& choice) {
  Rational end;
  for (std::size_t i = part.measures[measure].first_note; i < part.end_of_notes(measure); ++i) {
    const PlacedNote& note = part.notes[i];
    if (note.element.fills_bar || !choice.holds(part, i)) continue;
    end = std::max(end, note.at.onset + note.duration);
  }
  return end;
}

struct WholeFile {
  Rational filled;
  std::optional<Rational> whole_bar_rest;
};

WholeFile over_all_parts(const std::vector<PartEvents>& parts, std::size_t measure) {
  WholeFile all;
  for (const PartEvents& part : parts) {
    if (measure >= part.measures.size()) continue;
    const MeasureEvents& events = part.measures[measure];
    all.filled = std::max(all.filled, events.filled);
    if (events.whole_bar_rest &&
        (!all.whole_bar_rest || *events.whole_bar_rest > *all.whole_bar_rest)) {
      all.whole_bar_rest = events.whole_bar_rest;
    }
  }
  return all;
}

Rational measured_length(const WholeFile& all, Rational voice, const model::Meter& meter,
                         bool may_be_pickup) {
  const Rational full = meter.length();
  const bool rest_speaks = all.whole_bar_rest && *all.whole_bar_rest > Rational(0);
  const Rational rest = rest_speaks ? std::min(*all.whole_bar_rest, full) : full;
  if (all.filled == Rational(0)) return rest;
  Rational completed = std::min(all.filled, full);
  if (rest_speaks && !may_be_pickup) completed = std::max(completed, rest);
  return std::max(voice, completed);
}

std::vector<Rational> cuts_in(const PartEvents& part, std::size_t& next, std::size_t measure,
                              Rational length) {
  std::vector<Rational> cuts;
  for (; next < part.barlines.size() && part.barlines[next].at.measure == measure; ++next) {
    const PlacedNode& line = part.barlines[next];
    const bool inside = line.at.onset > Rational(0) && line.at.onset < length;
    if (inside && stands_inside(line) && parts_music(line.node)) cuts.push_back(line.at.onset);
  }
  std::sort(cuts.begin(), cuts.end());
  cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
  return cuts;
}

}  // namespace

BarMap::BarMap(const std::vector<MeasureExtent>& extents) {
  for (std::size_t i = 0; i < extents.size(); ++i) {
    first_bar_.push_back(bars_.size());
    Rational start;
    for (const Rational cut : extents[i].cuts) {
      bars_.push_back({i, start, cut - start});
      start = cut;
    }
    bars_.push_back({i, start, extents[i].length - start});
  }
  first_bar_.push_back(bars_.size());
}

Moment BarMap::start_at(const Moment& in_file) const {
  std::size_t bar = first_bar_[in_file.measure];
  const std::size_t end = first_bar_[in_file.measure + 1];
  if (bar + 1 < end) {
    const auto at = [&](std::size_t index) {
      return bars_.begin() + static_cast<std::ptrdiff_t>(index);
    };
    const auto after = std::partition_point(
        at(bar + 1), at(end), [&](const Bar& later) { return later.start <= in_file.onset; });
    bar = static_cast<std::size_t>(after - bars_.begin()) - 1;
  }
  return {bar, std::min(in_file.onset - bars_[bar].start, bars_[bar].length)};
}

Moment BarMap::end_at(const Moment& in_file) const {
  Moment place = start_at(in_file);
  if (place.onset == Rational(0) && place.measure > first_bar_[in_file.measure]) {
    place = {place.measure - 1, bars_[place.measure - 1].length};
  }
  return place;
}

std::size_t BarMap::boundary_at(const Moment& in_file) const {
  const Moment place = start_at(in_file);
  return place.onset == Rational(0) ? place.measure : place.measure + 1;
}

Moment BarMap::later(Moment in_score, Rational by) const {
  in_score.onset += by;
  while (in_score.measure + 1 < bars_.size() && in_score.onset >= bars_[in_score.measure].length) {
    in_score.onset -= bars_[in_score.measure].length;
    ++in_score.measure;
  }
  return in_score;
}

std::vector<model::Meter> measure_meters(const StaffAttributes& attributes, std::size_t count) {
  std::vector<model::Meter> meters(count, model::Meter::free_time());
  for (std::size_t i = 0; i < attributes.meters.size(); ++i) {
    const std::size_t from = std::min(attributes.meters[i].at.measure, count);
    const std::size_t to = i + 1 < attributes.meters.size()
                               ? std::min(attributes.meters[i + 1].at.measure, count)
                               : count;
    std::fill(meters.begin() + static_cast<std::ptrdiff_t>(from),
              meters.begin() + static_cast<std::ptrdiff_t>(std::max(from, to)),
              attributes.meters[i].value);
  }
  return meters;
}

std::vector<MeasureExtent> measure_extents(const std::vector<PartEvents>& parts,
                                           const MelodyChoice& choice,
                                           const StaffAttributes& attributes) {
  const PartEvents& part = parts[choice.part];
  const std::vector<model::Meter> meters = measure_meters(attributes, part.measures.size());
  std::vector<MeasureExtent> extents;
  std::size_t next_line = 0;
  for (std::size_t i = 0; i < part.measures.size(); ++i) {
    const WholeFile all = over_all_parts(parts, i);
    const Rational voice = melody_end(part, i, choice);
    const bool may_be_pickup =
        i == 0 || attribute(part.measures[i].source.measure, "implicit") == "yes";
    const Rational length =
        meters[i].is_free()
            ? (all.filled > Rational(0) ? all.filled : all.whole_bar_rest.value_or(0))
            : measured_length(all, voice, meters[i], may_be_pickup);
    extents.push_back({length, cuts_in(part, next_line, i, length)});
  }
  return extents;
}

}  // namespace yubifu::musicxml
