// Points and boxes. All measures in millimetres, y grows downwards.
#pragma once

namespace yubifu::page {

/// Where something is on its sheet.
struct Point {
  double x = 0;
  double y = 0;
};

/// A rectangle with upright sides.
struct Box {
  double left = 0;
  double top = 0;
  double right = 0;
  double bottom = 0;

  double width() const { return right - left; }
  double height() const { return bottom - top; }
  Point center() const { return {(left + right) / 2, (top + bottom) / 2}; }
};

/// True when the insides of two boxes meet; touching edges do not count.
bool overlap(const Box& a, const Box& b);

/// The smallest box around both.
Box joined(const Box& a, const Box& b);

}  // namespace yubifu::page
