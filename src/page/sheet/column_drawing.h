// One column in its own axes: its lanes (lanes.cpp), signs (signs.cpp), lines, song text.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "model/score.h"
#include "page/drawing.h"
#include "page/page.h"
#include "page/sheet/columns.h"
#include "page/sheet/labels.h"
#include "page/sheet/strip.h"

namespace yubifu::page {

/// Distances from the axis of the numbers, in millimetres. A lane that is not used has no length.
struct Lanes {
  Stretch numbers;
  Stretch bends;  ///< of its own only in rows; in columns bends stand beside the numbers
  Stretch beams;
  Stretch brackets;
  Stretch slurs;
  Stretch graces;
  Stretch holes;
  Stretch marks;
  Stretch endings;
  std::vector<Stretch> labels;  ///< from the numbers outwards
  std::vector<Stretch> verses;  ///< for each of Score::verses; without length when hidden
  Stretch all;                  ///< from the first to the last
};

/// In columns: to the right of the numbers small signs, beams, brackets, sung syllables, endings,
/// labels; to the left slurs, grace notes, hole patterns, marks, song text. In rows: below the
/// numbers beams and song text; all else above.
Lanes make_lanes(const model::Score& score, const Strip& strip, const Column& column,
                 const PageOptions& options, double unit, std::size_t label_lanes);

/// The pattern beside a note: the one asked for, or where all are shown that of the flute's table.
std::optional<model::HolePattern> shown_holes(const model::Note& note, HolesShown shown);

/// The index of a syllable's verse in Score::verses.
std::size_t verse_index(const model::Score& score, const model::Syllable& syllable);

/// What is drawn, and what holds for all signs of a column.
struct Place {
  const model::Score& score;
  const Strip& strip;
  const PageOptions& options;
  const Spacing& spacing;
  const Lanes& lanes;
  Frame frame;

  const Bar& bar_of(const Piece& piece) const { return strip.bars[piece.bar]; }
  const model::Measure& measure_of(const Piece& piece) const {
    return score.measures[bar_of(piece).measure];
  }
};

/// All items of a column. Signs and their words carry the index of their piece as their bar.
std::vector<Item> draw_column(const Place& place, const Column& column,
                              const std::vector<PlacedLabel>& labels);

/// The number of a verse before its lane.
Item draw_verse_number(const Place& place, const std::string& verse, Stretch lane);

/// Where a sign stands: its cell, the middle of the sign along the column, and its height.
struct Spot {
  Stretch cell;
  double middle = 0;
  double height = 0;
  double ratio = 1;  ///< of full size

  /// The stretch that the sign itself takes.
  Stretch sign() const { return {middle - height / 2, middle + height / 2}; }
};

/// Where the sign of a cell stands, as large as its cell lets it be.
Spot spot_of(const Place& place, const Piece& piece, const Cell& cell);

/// From a cell to the end of the last one after it that holds the same note in the piece.
Stretch extent_of_note(const Bar& bar, const Piece& piece, std::size_t cell);

/// The numbers of a piece with their additions, strokes, rests, grace notes, marks and patterns.
std::vector<Item> draw_signs(const Place& place, const Piece& piece);

}  // namespace yubifu::page
