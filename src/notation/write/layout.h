// The bars of a score as printed words, and these as lines of text with their beats in columns and
// the song under its notes.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "model/score.h"

namespace yubifu::notation {

/// A sign, hold, rest or brace with what is glued to it, and the song words under it.
struct Piece {
  std::string brackets;           ///< opening brackets; song text begins behind them
  std::string text;               ///< with closing brackets and their length
  std::vector<std::string> song;  ///< where a note starts: one word a verse of the score
};

/// What stands together in one column: a word of the bar, or a row of directions.
using Cell = std::vector<Piece>;

/// A bar of a line from left to right.
struct PrintedBar {
  std::string begin_sign;   ///< `|:` or nothing
  Cell lead;                ///< directions at the start
  std::vector<Cell> words;  ///< each with the directions before and inside it
  Cell tail;                ///< directions at the end
  std::string end_sign;     ///< `|`, `:|x3`, `|:` where the next bar of the line begins a repeat
};

/// One line of music with what stands around it.
struct LaidLine {
  std::size_t first = 0;  ///< its measures are [first, last)
  std::size_t last = 0;
  bool blank_before = false;  ///< a blank line parts it from the line before
  bool opens_section = false;
  bool starts_block = false;        ///< its beats stand in columns of their own
  bool begins_with_pickup = false;  ///< the first bar stands before the columns of the others
  std::string heading = {};         ///< a line of its own above: directions that open a section
  std::vector<PrintedBar> bars = {};
  std::string comment = {};  ///< after the bars, with `# `
  std::vector<std::string> comments_below =
      {};  ///< on lines of their own, after a blank one perhaps
};

/// Lines whose beats stand in the same columns.
using LaidBlock = std::vector<LaidLine>;

/// Adds the lines to `out`, each with its line end and its song lines. `verses` are the names in
/// the order of Piece::song; music is indented to make room for their labels.
void print_block(const LaidBlock& block, const std::vector<std::string>& verses,
                 model::SongBars song_bars, std::string& out);

/// The columns that a row of directions or a word takes, song text included.
int cell_width(const Cell& cell);

}  // namespace yubifu::notation
