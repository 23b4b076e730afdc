// What a column asks of its page: only what it uses takes room.
#pragma once

#include <vector>

#include "model/score.h"
#include "page/columns.h"
#include "page/strip.h"

namespace yubifu::page {

/// What of a column takes room beside the numbers.
struct Needs {
  bool half_holes = false;  ///< メ or カ at a main note
  bool bends = false;
  bool grace_notes = false;
  bool grace_half_holes = false;
  bool grace_bends = false;
  bool asked_holes = false;
  bool marks = false;
  bool slurs = false;  ///< or slides, also those that come from the column before
  bool endings = false;
  int beams = 0;
  int brackets = 0;
  /// For each of Score::verses the room of its widest syllable, in units of the text's size; 0
  /// where it has none.
  std::vector<double> syllable_widths;
};

/// Looks at every note, rest and bar of the column.
Needs needs_of(const model::Score& score, const Strip& strip, const Column& column);

}  // namespace yubifu::page
