// Where the lines of a score break, and which of them share columns.
#pragma once

#include <cstddef>
#include <vector>

#include "model/score.h"

namespace yubifu::notation {

/// The measures [first, last) of one line.
struct LineOfBars {
  std::size_t first = 0;
  std::size_t last = 0;
  bool blank_before = false;        ///< a blank line stands before it
  bool starts_block = false;        ///< its beats stand in columns of their own
  bool begins_with_pickup = false;  ///< its first bar is short and others follow
};

/// The lines as the score breaks them, if it says so anywhere, and systems of more than eight whole
/// bars within, too; otherwise after four whole bars, at double bars and repeats and before a
/// section. A measure with comments always ends its line.
std::vector<LineOfBars> lines_of(const model::Score& score);

}  // namespace yubifu::notation
