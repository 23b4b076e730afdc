// Written note values, a power of two with up to two dots; the strong and weak places of a bar or
// a tuplet, where long notes are cut and beams end; and the cuts.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "model/meter.h"
#include "model/rational.h"

namespace yubifu::musicxml {

/// A value with its dots; three quarters are a half (`base` 2) with one dot.
struct NoteValue {
  model::Rational base;  ///< a power of two, in quarters, at most a breve
  int dots = 0;

  friend bool operator==(const NoteValue&, const NoteValue&) = default;
};

/// More dots than this are not written.
inline constexpr int kMostDots = 2;

/// The longest value without dots: the breve, eight quarters.
inline constexpr model::Rational kLongestBase(8);

/// The one value that lasts so long; nothing where several tied notes are needed.
std::optional<NoteValue> single_value(model::Rational quarters);

/// Flags or beams of a value: 1 for an eighth, 0 from the quarter up.
int flag_count(const NoteValue& value);

/// True when the denominator is a power of two.
bool is_dyadic(model::Rational value);

/// The largest odd divisor; of 0 it is 0.
std::int64_t odd_part(std::int64_t value);

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

/// Part of a note or rest. Places in the grid; a length that is no sum of values stays whole,
/// without a value.
struct ValuePiece {
  model::Rational begin;
  model::Rational end;
  std::optional<NoteValue> value;

  friend bool operator==(const ValuePiece&, const ValuePiece&) = default;
};

/// A note without a single value is cut at the strongest place for which the first part has one;
/// of equals, where the rest has one too, then with the fewest dots, then the earliest.
std::vector<ValuePiece> cut_note(model::Rational begin, model::Rational end,
                                 const MetricGrid& grid);

/// A rest is cut at its strongest place until every part is one node of the grid.
std::vector<ValuePiece> cut_rest(model::Rational begin, model::Rational end,
                                 const MetricGrid& grid);

}  // namespace yubifu::musicxml
