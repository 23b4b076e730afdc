// Printed bars to lines of text with their beats in columns and the song under its notes.
#pragma once

#include <string>
#include <vector>

#include "notation/writer_words.h"

namespace yubifu::notation {

/// One bar of a line.
struct LaidBar {
  PrintedBar bar;
  std::string begin_sign;  ///< `|:` or nothing
  std::string end_sign;    ///< `|`, `:|x3`, `|:` where the next bar of the line begins a repeat
};

/// One line of music with what stands around it.
struct LaidLine {
  std::string heading;  ///< a line of its own above: directions that open a section
  std::vector<LaidBar> bars;
  std::string comment;                      ///< after the bars, with `# `
  std::vector<std::string> comments_below;  ///< on lines of their own, after a blank one perhaps
  bool blank_before = false;                ///< a blank line parts it from the line before
  bool begins_with_pickup = false;  ///< the first bar stands before the columns of the others
};

/// Lines whose beats stand in the same columns.
using LaidBlock = std::vector<LaidLine>;

/// Adds the lines to `out`, each with its line end and its song lines. `verses` are the names in
/// the order of Piece::song; music is indented by `indent` columns to make room for their labels.
void print_block(const LaidBlock& block, const std::vector<std::string>& verses,
                 model::SongBars song_bars, int indent, std::string& out);

/// The indent that a score with these verses needs; 0 for none.
int song_indent(const std::vector<std::string>& verses);

/// The columns that a row of directions or a word takes, song text included.
int cell_width(const Cell& cell);

}  // namespace yubifu::notation
