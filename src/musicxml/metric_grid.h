// The strong and weak places of a bar or a tuplet: where long notes are cut and beams end.
#pragma once

#include <cstdint>

#include "model/meter.h"
#include "model/rational.h"

namespace yubifu::musicxml {

/// Equal units in a hierarchy: even counts fall into halves, three and nine into thirds, other
/// odd counts into a longer and a shorter half (5 = 3 + 2, 7 = 4 + 3). Below a unit everything
/// goes by halves. Free time has units without a hierarchy.
class MetricGrid {
 public:
  static MetricGrid of_bar(const model::Meter& meter, model::Rational beat);
  static MetricGrid of_tuplet(std::int64_t parts, model::Rational part);

  model::Rational unit() const { return unit_; }

  /// How weak a place is: 0 for the beginning, larger for weaker ones. Places count from the
  /// beginning of the bar or tuplet; one past the end counts as in the next bar.
  int level(model::Rational place) const;

  /// True when one rest may fill [begin, end): it is one node of the hierarchy, or the first two
  /// of three short units.
  bool takes_one_rest(model::Rational begin, model::Rational end) const;

  /// Where the beam group around a place begins: groups are nodes of at most three eighths.
  model::Rational beam_group(model::Rational place) const;

 private:
  MetricGrid(std::int64_t count, model::Rational unit, bool pairs)
      : count_(count), unit_(unit), pairs_in_three_(pairs) {}

  std::int64_t count_;  // units; 0 in free time
  model::Rational unit_;
  bool pairs_in_three_;
};

}  // namespace yubifu::musicxml
