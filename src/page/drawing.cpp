#include "page/drawing.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace yubifu::page {

bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

Box joined(const Box& a, const Box& b) {
  return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right),
          std::max(a.bottom, b.bottom)};
}

Item glyph_item(Role role, GlyphId id, Point center, double height) {
  const double half_width = aspect(id) * height / 2;
  const Box box{center.x - half_width, center.y - height / 2, center.x + half_width,
                center.y + height / 2};
  return {role, GlyphShape{id, box}, box, {}, {}};
}

Item line_item(Role role, Point from, Point to, double width) {
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  width = std::max(width, std::min(kThinnestLine, length / 2));
  // The ends are cut at right angles.
  const double aside_x = length > 0 ? width / 2 * std::abs(to.y - from.y) / length : 0;
  const double aside_y = length > 0 ? width / 2 * std::abs(to.x - from.x) / length : 0;
  const Box box{std::min(from.x, to.x) - aside_x, std::min(from.y, to.y) - aside_y,
                std::max(from.x, to.x) + aside_x, std::max(from.y, to.y) + aside_y};
  return {role, LineShape{from, to, width}, box, {}, {}};
}

Item dot_item(Role role, Point center, double radius) {
  const Box box{center.x - radius, center.y - radius, center.x + radius, center.y + radius};
  return {role, DotShape{center, radius}, box, {}, {}};
}

void append(std::vector<Item>& to, std::vector<Item> items) {
  to.insert(to.end(), std::make_move_iterator(items.begin()), std::make_move_iterator(items.end()));
}

}  // namespace yubifu::page
