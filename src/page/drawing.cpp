#include "page/drawing.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

struct SignParts {
  std::string base;  ///< without the dot
  bool dotted = false;
};

// Digits of the third register carry a dot above; other combining marks belong to their sign.
SignParts parts_of(const model::Sign& sign) {
  constexpr std::string_view kDot = "\xCC\x87";
  const std::string& printed = sign.printed();
  if (printed.size() == 1 + kDot.size() && printed.ends_with(kDot)) {
    return {printed.substr(0, 1), true};
  }
  return {printed, false};
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
  return {role, DotShape{center, radius}, box_around(center, radius, radius), {}, {}};
}

Item hole_item(Role role, model::Hole hole, Point center, double radius) {
  return {role, HoleShape{hole, center, radius}, box_around(center, radius, radius), {}, {}};
}

Item frame_item(Role role, const Box& box, double width) {
  return {role, FrameShape{box, width}, box, {}, {}};
}

void append(std::vector<Item>& to, std::vector<Item> items) {
  to.insert(to.end(), std::make_move_iterator(items.begin()), std::make_move_iterator(items.end()));
}

void ToneDrawer::add_sign(const model::Sign& sign) {
  const SignParts parts = parts_of(sign);
  if (const auto id = glyph_of(parts.base)) {
    push(glyph_item(role_, *id, center_, height_));
  } else {
    add_own_sign(parts.base);
  }
  if (!parts.dotted) return;
  constexpr double kOverDigit = style::kDotRoom - style::kThirdDot;
  push(dot_item(role_, {center_.x, center_.y - height_ / 2 - kOverDigit * height_},
                style::kThirdDot * height_));
}

void ToneDrawer::add_gap(const model::Tone& tone) {
  constexpr double kText = 0.46;
  constexpr double kHalfHeight = 0.36;
  const double half_width = style::kHalfNumber * height_ * 0.96;
  push(frame_item(role_, box_around(center_, half_width, kHalfHeight * height_),
                  2 * style::kThinRule * height_));
  if (tone.spelling) {
    append(items_, note_name(role_, *tone.spelling, center_, kText * height_, half_width * 1.8));
  } else {
    items_.push_back(bold(line_around(role_, "?", center_, kText * height_, TextAnchor::middle)));
  }
}

void ToneDrawer::add_half_hole(model::HalfHole half, double size) {
  if (half == model::HalfHole::none) return;
  const GlyphId id = half == model::HalfHole::under ? GlyphId::half_under : GlyphId::half_over;
  const Point at{right_ + style::kTouch * height_ + aspect(id) * size / 2,
                 center_.y - height_ / 2 + size / 2};
  items_.push_back(glyph_item(role_ == Role::number ? Role::small_sign : role_, id, at, size));
  right_of_half_hole_ = items_.back().box.right;
}

// A sign that only a flute file defines.
void ToneDrawer::add_own_sign(const std::string& text) {
  constexpr double kBaseline = 0.38;
  const double width = std::min(text_width(text), 1.0) * height_;
  Item item = line_of_text(role_, text, {center_.x, center_.y + kBaseline * height_}, height_,
                           TextAnchor::middle, width);
  item.box.top = center_.y - height_ / 2;
  item.box.bottom = center_.y + height_ / 2;
  push(std::move(item));
}

void ToneDrawer::push(Item item) {
  right_ = std::max(right_, item.box.right);
  items_.push_back(std::move(item));
}

Box area_of(const SheetSize& size) {
  return {style::kMarginSide, style::kMarginTop, size.width - style::kMarginSide,
          size.height - style::kMarginBottom};
}

}  // namespace yubifu::page
