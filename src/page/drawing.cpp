#include "page/drawing.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

// A sign that only a flute file defines.
Item own_sign(Role role, const std::string& text, Point center, double height) {
  constexpr double kBaseline = 0.38;
  const double width = std::min(text_width(text), 1.0) * height;
  Item item = line_of_text(role, text, {center.x, center.y + kBaseline * height}, height,
                           TextAnchor::middle, width);
  item.box.top = center.y - height / 2;
  item.box.bottom = center.y + height / 2;
  return item;
}

void add_sign(DrawnSign& drawn, Role role, const std::string& printed, Point center,
              double height) {
  // Digits of the third register carry a dot above; other combining marks belong to their sign.
  constexpr std::string_view kDot = "\xCC\x87";
  const bool dotted = printed.size() == 1 + kDot.size() && printed.ends_with(kDot);
  const std::string base = dotted ? printed.substr(0, 1) : printed;
  const auto id = glyph_of(base);
  drawn.items.push_back(id ? glyph_item(role, *id, center, height)
                           : own_sign(role, base, center, height));
  drawn.right = std::max(drawn.right, drawn.items.back().box.right);
  if (!dotted) return;
  constexpr double kOverDigit = style::kDotRoom - style::kThirdDot;
  drawn.items.push_back(dot_item(role, {center.x, center.y - height / 2 - kOverDigit * height},
                                 style::kThirdDot * height));
}

void add_gap(DrawnSign& drawn, Role role, const model::Tone& tone, Point center, double height) {
  constexpr double kText = 0.46;
  constexpr double kHalfHeight = 0.36;
  const double half_width = style::kHalfNumber * height * 0.96;
  drawn.items.push_back(frame_item(role, box_around(center, half_width, kHalfHeight * height),
                                   2 * style::kThinRule * height));
  drawn.right = drawn.items.back().box.right;
  if (tone.spelling) {
    append(drawn.items, note_name(role, *tone.spelling, center, kText * height, half_width * 1.8));
  } else {
    drawn.items.push_back(bold(line_around(role, "?", center, kText * height, TextAnchor::middle)));
  }
}

}  // namespace

Box box_around(Point center, double half_width, double half_height) {
  return {center.x - half_width, center.y - half_height, center.x + half_width,
          center.y + half_height};
}

bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

Box joined(const Box& a, const Box& b) {
  return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right),
          std::max(a.bottom, b.bottom)};
}

Item glyph_item(Role role, GlyphId id, Point center, double height) {
  const Box box = box_around(center, aspect(id) * height / 2, height / 2);
  return {role, GlyphShape{id, box}, box};
}

Item line_item(Role role, Point from, Point to, double width) {
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  width = std::max(width, std::min(kThinnestLine, length / 2));
  // The ends are cut at right angles.
  const double aside_x = length > 0 ? width / 2 * std::abs(to.y - from.y) / length : 0;
  const double aside_y = length > 0 ? width / 2 * std::abs(to.x - from.x) / length : 0;
  const Box box{std::min(from.x, to.x) - aside_x, std::min(from.y, to.y) - aside_y,
                std::max(from.x, to.x) + aside_x, std::max(from.y, to.y) + aside_y};
  return {role, LineShape{from, to, width}, box};
}

Item dot_item(Role role, Point center, double radius) {
  return {role, DotShape{center, radius}, box_around(center, radius, radius)};
}

Item hole_item(Role role, model::Hole hole, Point center, double radius) {
  return {role, HoleShape{hole, center, radius}, box_around(center, radius, radius)};
}

Item frame_item(Role role, const Box& box, double width) {
  return {role, FrameShape{box, width}, box};
}

void append(std::vector<Item>& to, std::vector<Item> items) {
  to.insert(to.end(), std::make_move_iterator(items.begin()), std::make_move_iterator(items.end()));
}

DrawnSign draw_sign(Role role, const model::Tone& tone, Point center, double height,
                    double half_hole_height) {
  const auto& [sign, half, bend] = *tone.fingering;
  DrawnSign drawn{{}, center.x, 0};
  if (sign) {
    add_sign(drawn, role, sign->printed(), center, height);
  } else {
    add_gap(drawn, role, tone, center, height);
  }
  drawn.right_of_half_hole = drawn.right;
  if (half == model::HalfHole::none) return drawn;
  const GlyphId id = half == model::HalfHole::under ? GlyphId::half_under : GlyphId::half_over;
  const Point at{drawn.right + style::kTouch * height + aspect(id) * half_hole_height / 2,
                 center.y - height / 2 + half_hole_height / 2};
  drawn.items.push_back(
      glyph_item(role == Role::number ? Role::small_sign : role, id, at, half_hole_height));
  drawn.right_of_half_hole = std::max(drawn.right, drawn.items.back().box.right);
  return drawn;
}

Box area_of(const SheetSize& size) {
  return {style::kMarginSide, style::kMarginTop, size.width - style::kMarginSide,
          size.height - style::kMarginBottom};
}

}  // namespace yubifu::page
