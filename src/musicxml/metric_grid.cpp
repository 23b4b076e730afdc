#include "musicxml/metric_grid.h"

#include "musicxml/note_value.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;

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

int dyadic_level(Rational units) {
  int level = kBelowUnit;
  for (std::int64_t below = units.denominator(); below > 1; below /= 2) ++level;
  return level;
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
  if (!units.is_whole()) return dyadic_level(units);
  if (count_ == 0) return units == Rational(0) ? 0 : 1;
  const std::int64_t at = modulo(units.numerator(), count_);
  Node node{0, count_};
  int level = 0;
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

}  // namespace yubifu::musicxml
