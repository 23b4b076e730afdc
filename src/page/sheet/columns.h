// Bars broken into columns: how long a step is and where each bar stands. Columns read down and
// rows read across are laid out by the same rules in axes of their own.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "model/score.h"
#include "page/page.h"
#include "page/shapes.h"
#include "page/sheet/strip.h"

namespace yubifu::page {

/// Two positions along the reading direction or across it.
struct Stretch {
  double from = 0;
  double to = 0;

  double length() const { return to - from; }
  double middle() const { return (from + to) / 2; }
};

/// `along` is reading time, from the start of the column; `aside` is the distance from the axis
/// of the numbers, positive to the right of a column and below a row.
struct Frame {
  ReadingDirection direction = ReadingDirection::down;
  Point origin;  ///< on the sheet

  bool is_down() const { return direction == ReadingDirection::down; }

  /// On the sheet, in millimetres.
  Point at(double along, double aside) const {
    if (is_down()) return {origin.x + aside, origin.y + along};
    return {origin.x + along, origin.y + aside};
  }

  Box box(Stretch along, Stretch aside) const {
    const Point a = at(along.from, aside.from);
    const Point b = at(along.to, aside.to);
    return {a.x, a.y, b.x, b.y};
  }
};

/// Sizes that hold for all columns, in millimetres.
struct Spacing {
  double unit = 0;    ///< the height of a digit at full size
  double pitch = 0;   ///< along the column: what one number takes at full size
  double step = 0;    ///< along the column: one beat
  double gap = 0;     ///< along the column: room of a bar line
  double lead = 0;    ///< before the first bar of a column
  double length = 0;  ///< of a column
};

/// A bar, or a part of it, in a column.
struct Piece {
  std::size_t bar = 0;  ///< index into Strip::bars
  double from = 0;      ///< in steps of the bar
  double to = 0;
  double begin = 0;  ///< where `from` is, from the start of the column
  double step = 0;   ///< length of a step in this bar: a whole multiple of Spacing::step
  bool first = true;
  bool last = true;

  /// Where a step of the bar is, in millimetres from the start of the column.
  double at(double steps) const { return begin + (steps - from) * step; }
  double end() const { return at(to); }
};

/// Read down, or a row read across.
using Column = std::vector<Piece>;

/// All of a score, in reading order.
struct Columns {
  Spacing spacing;
  std::vector<Column> columns;
  std::vector<std::size_t> crowded;  ///< bars whose numbers are less than half as large
};

/// Lays the bars into columns of a length. A column breaks at bars, at the end of a phrase where
/// that costs less than a fifth of it; a longer bar breaks at a beat. All steps are equal, but two
/// or more times as long in a bar of very short notes, shorter where a word would pass a column.
Columns break_into_columns(const model::Score& score, const Strip& strip,
                           ReadingDirection direction, double unit, double length);

/// The cells of a bar that stand in a piece: the first index, and the first behind them.
std::pair<std::size_t, std::size_t> cells_of(const Bar& bar, const Piece& piece);

/// The size of a number in a cell of some length, as a part of full size.
double size_ratio(const Spacing& spacing, double cell_length);

}  // namespace yubifu::page
