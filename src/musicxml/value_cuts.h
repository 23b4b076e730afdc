// Cuts a stretch of time into pieces that have a note value each.
#pragma once

#include <vector>

#include "model/rational.h"
#include "musicxml/metric_grid.h"
#include "musicxml/note_value.h"

namespace yubifu::musicxml {

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
