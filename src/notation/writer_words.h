// One bar of a score as printed words, before they are laid out in lines.
#pragma once

#include <string>
#include <vector>

#include "model/rhythm_tree.h"
#include "model/score.h"
#include "notation/writer.h"

namespace yubifu::notation {

/// A sign, hold, rest or brace with what is glued to it, and the song words under it.
struct Piece {
  std::string brackets;           ///< opening brackets; song text begins behind them
  std::string text;               ///< with closing brackets and their length
  std::vector<std::string> song;  ///< where a note starts: one word a verse of the score
};

/// What stands together in one column: a word of the bar, or a row of directions.
using Cell = std::vector<Piece>;

/// A bar from left to right.
struct PrintedBar {
  Cell lead;                ///< directions at the start
  std::vector<Cell> words;  ///< each with the directions before and inside it
  Cell tail;                ///< directions at the end
};

/// The words of one measure. Throws model::DivisionTooFine and model::TimeOverflow.
PrintedBar print_bar(const model::Score& score, std::size_t measure,
                     const model::BarContent& content, Alphabet alphabet);

}  // namespace yubifu::notation
