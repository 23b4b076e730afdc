// A column's own axes, so that columns read down and rows read across are laid out by the same
// rules.
#pragma once

#include "page/drawing.h"
#include "page/page.h"

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
class Frame {
 public:
  Frame(ReadingDirection direction, Point origin) : direction_(direction), origin_(origin) {}

  bool is_down() const { return direction_ == ReadingDirection::down; }

  /// On the sheet, in millimetres.
  Point at(double along, double aside) const {
    if (is_down()) return {origin_.x + aside, origin_.y + along};
    return {origin_.x + along, origin_.y + aside};
  }

  Box box(Stretch along, Stretch aside) const {
    const Point a = at(along.from, aside.from);
    const Point b = at(along.to, aside.to);
    return {a.x, a.y, b.x, b.y};
  }

 private:
  ReadingDirection direction_;
  Point origin_;
};

}  // namespace yubifu::page
