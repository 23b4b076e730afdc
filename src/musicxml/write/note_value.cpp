#include "musicxml/write/note_value.h"

#include <algorithm>
#include <tuple>

#include "base/numbers.h"

namespace yubifu::musicxml {

using model::Rational;

bool is_dyadic(Rational value) {
  return base::is_power_of_two(value.denominator());
}

std::int64_t odd_part(std::int64_t value) {
  if (value == 0) return 0;
  while (value % 2 == 0) value /= 2;
  return value;
}

std::optional<NoteValue> single_value(Rational quarters) {
  if (quarters <= Rational(0) || !is_dyadic(quarters)) return std::nullopt;
  // Dots make 1, 3 and 7 of the smallest part.
  const std::int64_t parts = odd_part(quarters.numerator());
  for (int dots = 0; dots <= kMostDots; ++dots) {
    if (parts != (2 << dots) - 1) continue;
    const Rational base = quarters * Rational(1 << dots, parts);
    if (base <= kLongestBase) return NoteValue{base, dots};
  }
  return std::nullopt;
}

int flag_count(const NoteValue& value) {
  int flags = 0;
  for (Rational length = value.base; length < Rational(1); length = length * 2) ++flags;
  return flags;
}

namespace {

// Levels below the unit come after every level that a hierarchy of units can have.
constexpr int kBelowUnit = 64;
constexpr int kNoPlace = 1000;

constexpr Rational kLongestBeamGroup(3, 2);

struct Node {
  std::int64_t begin = 0;
  std::int64_t size = 0;
};

// The child of a node, in units, around a place; sizes as the header describes.
Node child_around(const Node& node, std::int64_t place) {
  const bool thirds = node.size % 2 != 0 && node.size % 3 == 0;
  const std::int64_t first = thirds ? node.size / 3 : (node.size + 1) / 2;
  const std::int64_t from = place - node.begin;
  if (from < first) return {node.begin, first};
  if (!thirds) return {node.begin + first, node.size - first};
  return {node.begin + from / first * first, first};
}

std::int64_t modulo(std::int64_t value, std::int64_t by) {
  return by == 0 ? value : ((value % by) + by) % by;
}

}  // namespace

MetricGrid MetricGrid::of_bar(const model::Meter& meter, Rational beat) {
  if (meter.is_free()) return {0, is_dyadic(beat) ? beat : Rational(1), true};
  const Rational unit(4, meter.unit);
  return {meter.beats, unit, unit < Rational(1)};
}

MetricGrid MetricGrid::of_tuplet(std::int64_t parts, Rational part) {
  return {parts, part, true};
}

int MetricGrid::level(Rational place) const {
  const Rational units = place / unit_;
  if (!is_dyadic(units)) return kNoPlace;
  int level = 0;
  if (!units.is_whole()) {
    for (std::int64_t below = units.denominator(); below > 1; below /= 2) ++level;
    return kBelowUnit + level;
  }
  if (count_ == 0) return units == Rational(0) ? 0 : 1;
  const std::int64_t at = modulo(units.numerator(), count_);
  Node node{0, count_};
  while (node.begin != at) {
    node = child_around(node, at);
    ++level;
  }
  return level;
}

bool MetricGrid::takes_one_rest(Rational begin, Rational end) const {
  if (!single_value(end - begin)) return false;
  const Rational first = begin / unit_;
  const Rational size = (end - begin) / unit_;
  if (size <= Rational(1) || count_ == 0) {
    return is_dyadic(Rational(1) / size) && (first / size).is_whole();
  }
  if (!first.is_whole() || !size.is_whole()) return false;
  Node node{0, count_};
  const Node wanted{modulo(first.numerator(), count_), size.numerator()};
  while (node.size >= wanted.size) {
    if (node.begin == wanted.begin && node.size == wanted.size) return true;
    const bool pair = pairs_in_three_ && node.size == 3 && wanted.size == 2;
    if (pair && node.begin == wanted.begin) return true;
    if (node.size == 1) return false;
    node = child_around(node, wanted.begin);
  }
  return false;
}

Rational MetricGrid::beam_group(Rational place) const {
  Rational part = unit_;
  if (count_ == 0) {
    while (part < Rational(1)) part = part * 2;
  }
  while (part > kLongestBeamGroup) part = part / 2;
  if (part != unit_ || count_ == 0) return part * (place / part).floor();
  const std::int64_t units = (place / unit_).floor();
  const std::int64_t at = modulo(units, count_);
  Node node{0, count_};
  while (unit_ * node.size > kLongestBeamGroup) node = child_around(node, at);
  return unit_ * (units - at + node.begin);
}

namespace {

// Twice dotted breve: nothing longer has one value.
constexpr Rational kLongestSingle(14);

// Steps finer than this are not tried: rhythms as fine are refused before.
constexpr std::int64_t kFinestStep = 1 << 20;

// The first multiple of `step` behind a place.
Rational next_on(Rational step, Rational place) {
  return step * ((place / step).floor() + 1);
}

// Where a note is cut among the multiples of `step`; nothing when no first part has one value.
std::optional<Rational> note_cut_on(Rational begin, Rational end, Rational step,
                                    const MetricGrid& grid) {
  using Weight = std::tuple<int, int, int>;  // level, whether the rest is several, dots
  std::optional<Rational> best;
  Weight least;
  for (Rational place = next_on(step, begin); place < end; place += step) {
    const auto first = single_value(place - begin);
    if (!first) continue;
    const auto rest = single_value(end - place);
    const Weight weight{grid.level(place), rest ? 0 : 1,
                        first->dots + (rest ? rest->dots : kMostDots)};
    if (best && weight >= least) continue;
    best = place;
    least = weight;
  }
  return best;
}

// Looks at whole units first, then inside the unit where the note begins.
std::optional<Rational> note_cut(Rational begin, Rational end, const MetricGrid& grid) {
  const Rational unit = grid.unit();
  const Rational horizon = begin + kLongestSingle + unit;
  if (const auto place = note_cut_on(begin, std::min(end, horizon), unit, grid)) return place;
  const Rational next_unit = next_on(unit, begin);
  for (Rational step = unit / 2;; step = step / 2) {
    if (const auto place = note_cut_on(begin, std::min(end, next_unit), step, grid)) return place;
    if (step.denominator() > kFinestStep) return std::nullopt;
  }
}

// The strongest place inside a rest; of equals the last whose first part is one rest, else the
// first.
std::optional<Rational> rest_cut(Rational begin, Rational end, const MetricGrid& grid) {
  const Rational horizon = std::min(end, begin + kLongestSingle + grid.unit());
  for (Rational step = grid.unit(); step.denominator() <= kFinestStep; step = step / 2) {
    std::optional<Rational> best;
    int least = 0;
    for (Rational place = next_on(step, begin); place < horizon; place += step) {
      const int level = grid.level(place);
      const bool worse = level > least || (level == least && !grid.takes_one_rest(begin, place));
      if (best && worse) continue;
      best = place;
      least = level;
    }
    if (best) return best;
  }
  return std::nullopt;
}

// Cuts [begin, end) wherever `cut_in` gives a place inside what is left of it.
template <typename CutIn>
std::vector<ValuePiece> cut_up(Rational begin, Rational end, const MetricGrid& grid,
                               const CutIn& cut_in) {
  if (!is_dyadic(end - begin)) return {{begin, end, std::nullopt}};
  // What begins off every place of the grid is cut as if it began the bar.
  const Rational shift = is_dyadic(begin / grid.unit()) ? Rational(0) : begin;
  std::vector<ValuePiece> pieces;
  std::vector<Rational> ends{end - shift};
  for (Rational from = begin - shift; !ends.empty();) {
    const Rational until = ends.back();
    if (const std::optional<Rational> place = cut_in(from, until)) {
      ends.push_back(*place);
      continue;
    }
    pieces.push_back({from + shift, until + shift, single_value(until - from)});
    from = until;
    ends.pop_back();
  }
  return pieces;
}

}  // namespace

std::vector<ValuePiece> cut_note(Rational begin, Rational end, const MetricGrid& grid) {
  return cut_up(begin, end, grid, [&](Rational from, Rational until) {
    return single_value(until - from) ? std::nullopt : note_cut(from, until, grid);
  });
}

std::vector<ValuePiece> cut_rest(Rational begin, Rational end, const MetricGrid& grid) {
  return cut_up(begin, end, grid, [&](Rational from, Rational until) {
    return grid.takes_one_rest(from, until) ? std::nullopt : rest_cut(from, until, grid);
  });
}

}  // namespace yubifu::musicxml
