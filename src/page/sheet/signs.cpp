// The signs of one note: number, additions, strokes, grace notes, marks.
#include <algorithm>
#include <cstdlib>
#include <string>
#include <utility>

#include "page/sheet/column_drawing.h"
#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

// ↓20: an arrow and the cents, from a point at the left of its middle line.
std::vector<Item> bend_items(Role role, int cents, Point left_middle, double height) {
  constexpr double kDigitSpacing = 0.08;
  std::vector<Item> items;
  double x = left_middle.x;
  const auto add = [&](GlyphId id) {
    const double width = aspect(id) * height;
    items.push_back(glyph_item(role, id, {x + width / 2, left_middle.y}, height));
    x += width + kDigitSpacing * height;
  };
  add(cents < 0 ? GlyphId::arrow_down : GlyphId::arrow_up);
  for (const char digit : std::to_string(std::abs(cents))) add(digit_glyph(digit - '0'));
  return items;
}

double width_of(const std::vector<Item>& items) {
  return items.empty() ? 0 : items.back().box.right - items.front().box.left;
}

// Small signs keep readable beside small numbers.
double addition_ratio(double ratio, double least) {
  return ratio >= style::kLeastRatio ? std::max(ratio, least) : ratio * least / style::kLeastRatio;
}

// Heights of what stands at the right of a number, one over the other.
struct SmallHeights {
  double half_hole = 0;
  double bend = 0;
};

SmallHeights small_heights(const Place& place, const Spot& spot,
                           const model::Fingering& fingering) {
  constexpr double kLeastHalfHole = 0.75;
  constexpr double kLeastBend = 0.8;
  constexpr double kBoth = 0.98;  // of the number's height
  const bool down = place.frame.is_down();
  const double unit = place.spacing.unit;
  SmallHeights heights{
      style::kSmallSign * unit * addition_ratio(spot.ratio, down ? kLeastHalfHole : 0),
      style::kBendText * unit * addition_ratio(spot.ratio, kLeastBend)};
  const bool both = fingering.half != model::HalfHole::none && fingering.bend_cents != 0;
  const double all = heights.half_hole + heights.bend;
  if (down && both && all > kBoth * spot.height) {
    heights.half_hole *= kBoth * spot.height / all;
    heights.bend *= kBoth * spot.height / all;
  }
  return heights;
}

std::vector<Item> bend_over(const Place& place, const Spot& spot, int cents) {
  constexpr double kTaken = 0.9;  // of the lane
  double height = kTaken * place.lanes.bends.length();
  const double aside = place.lanes.bends.middle();
  const Point left = place.frame.at(spot.cell.from + style::kTouch * place.spacing.unit, aside);
  std::vector<Item> items = bend_items(Role::bend, cents, left, height);
  const double most = spot.cell.length() - 2 * style::kTouch * place.spacing.unit;
  if (width_of(items) > most) {
    height *= most / width_of(items);
    items = bend_items(Role::bend, cents, left, height);
  }
  return items;
}

// What a grace note takes along the column, in its heights: with room for a dot, and in a row for
// its additions beside it.
double grace_room(const model::Tone& tone, bool down) {
  constexpr double kRoomDown = 1.3;
  constexpr double kRoomAcross = 1.7;
  constexpr double kRoomWithBend = 2.4;
  if (down) return kRoomDown;
  return tone.fingering->bend_cents != 0 ? kRoomWithBend : kRoomAcross;
}

// The bend of a grace note: beside its half hole, and in a row under that. `most` is how wide it
// may be.
std::vector<Item> grace_bend(int cents, Point foot, double height, double most) {
  const auto drawn = [&](double size) {
    return bend_items(Role::grace, cents, {foot.x, foot.y - size / 2}, size);
  };
  return drawn(height * std::min(1.0, most / width_of(drawn(height))));
}

}  // namespace

Spot spot_of(const Place& place, const Piece& piece, const Cell& cell) {
  Spot spot;
  spot.cell = {piece.at(cell.begin), piece.at(cell.begin + cell.length)};
  spot.ratio = size_ratio(place.spacing, spot.cell.length());
  spot.height = place.spacing.unit * spot.ratio;
  const double before = place.frame.is_down() ? style::kDotRoom : style::kBeforeNumber;
  spot.middle = spot.cell.from + (before + style::kHalfNumber) * spot.height;
  return spot;
}

std::vector<Item> draw_tone(const Place& place, const Spot& spot, const model::Tone& tone) {
  const model::Fingering& fingering = *tone.fingering;
  ToneDrawer drawer(Role::number, place.frame.at(spot.middle, 0), spot.height);
  if (fingering.is_gap()) {
    drawer.add_gap(tone);
  } else {
    drawer.add_sign(*fingering.sign);
  }
  const SmallHeights heights = small_heights(place, spot, fingering);
  drawer.add_half_hole(fingering.half, heights.half_hole);
  std::vector<Item> bend;
  if (fingering.bend_cents != 0 && place.frame.is_down()) {
    const Point foot{drawer.right() + style::kTouch * spot.height,
                     place.frame.at(spot.middle, 0).y + (spot.height - heights.bend) / 2};
    bend = bend_items(Role::bend, fingering.bend_cents, foot, heights.bend);
  } else if (fingering.bend_cents != 0) {
    bend = bend_over(place, spot, fingering.bend_cents);
  }
  std::vector<Item> items = drawer.take();
  append(items, std::move(bend));
  return items;
}

std::vector<Item> draw_held(const Place& place, const Spot& spot, Stroke stroke) {
  const double height = spot.height;
  const double pen = style::kStrokePen * height;
  const Point center = place.frame.at(spot.middle, 0);
  if (place.held == HeldBeats::dashes) {
    // A dash lies along the column; in a row it stands off the axis, so that it is no 一.
    const double half = style::kDashLength * height / 2;
    const double aside = place.frame.is_down() ? 0 : style::kStrokeOffset * height;
    return {line_item(Role::stroke, place.frame.at(spot.middle - half, aside),
                      place.frame.at(spot.middle + half, aside), pen)};
  }
  const double offset = style::kStrokeOffset * height;
  const Point off = place.frame.at(spot.middle, offset);
  switch (stroke) {
    case Stroke::diagonal: {
      const double half = style::kDiagonalHalf * height;
      return {line_item(Role::stroke, {center.x + half, center.y - half},
                        {center.x - half, center.y + half}, pen)};
    }
    case Stroke::level: {
      const double half = style::kLevelLength * height / 2;
      return {line_item(Role::stroke, {off.x - half, off.y}, {off.x + half, off.y}, pen)};
    }
    case Stroke::upright: {
      const double half = style::kUprightLength * height / 2;
      return {line_item(Role::stroke, {off.x, off.y - half}, {off.x, off.y + half}, pen)};
    }
  }
  return {};
}

std::vector<Item> draw_free_hold(const Place& place, const Spot& spot) {
  const double inset = style::kDotRoom * place.spacing.unit;
  const double aside = place.frame.is_down() ? 0 : style::kStrokeOffset * place.spacing.unit;
  return {line_item(Role::stroke, place.frame.at(spot.cell.from + inset, aside),
                    place.frame.at(spot.cell.to - inset, aside),
                    style::kStrokePen * place.spacing.unit)};
}

std::vector<Item> draw_rest(const Place& place, const Spot& spot) {
  return {dot_item(Role::rest, place.frame.at(spot.middle, 0), style::kRestDot * spot.height)};
}

std::vector<Item> draw_graces(const Place& place, Stretch along,
                              const std::vector<model::Tone>& tones, GraceSide side,
                              std::size_t first) {
  if (tones.empty()) return {};
  const bool down = place.frame.is_down();
  double room = 0;
  for (const model::Tone& tone : tones) room += grace_room(tone, down);
  const double height = std::min({style::kGrace * place.spacing.unit, along.length() / room,
                                  down ? along.length() : place.lanes.graces.length() * 0.8});
  double at = side == GraceSide::before ? along.from : along.to - room * height;
  std::vector<Item> items;
  for (const model::Tone& tone : tones) {
    const std::size_t drawn = items.size();
    const double middle = at + (down ? 0.75 : 0.5) * height;
    const double aside =
        down ? place.lanes.graces.from + height * 0.52 : place.lanes.graces.to - height * 0.55;
    const Point center = place.frame.at(middle, aside);
    ToneDrawer drawer(Role::grace, center, height);
    if (tone.fingering->is_gap()) {
      drawer.add_gap(tone);
    } else {
      drawer.add_sign(*tone.fingering->sign);
    }
    drawer.add_half_hole(tone.fingering->half, 0.5 * height);
    const double beside = down ? drawer.right_of_half_hole() : drawer.right();
    append(items, drawer.take());
    at += grace_room(tone, down) * height;
    if (tone.fingering->bend_cents != 0) {
      constexpr double kBetween = 0.1;
      const double end = down ? place.frame.at(middle, place.lanes.graces.to).x
                              : place.frame.at(at, aside).x - kBetween * height;
      const double from = beside + 2 * style::kTouch * height;
      append(items, grace_bend(tone.fingering->bend_cents, {from, center.y + height / 2},
                               (down ? 0.5 : 0.44) * height, end - from));
    }
    for (std::size_t i = drawn; i < items.size(); ++i) items[i].note = first;
    ++first;
  }
  return items;
}

std::vector<Item> draw_holes(const Place& place, const Spot& spot, Stretch lane,
                             const model::HolePattern& pattern) {
  const double pitch = style::kHolePitch * place.spacing.unit;
  constexpr double kMost = 0.4;  // of a small number's height
  const double radius = std::min(style::kHole * place.spacing.unit, kMost * spot.height);
  std::vector<Item> items;
  double aside = lane.to - pitch * static_cast<double>(pattern.holes.size());
  for (const model::Hole hole : pattern.holes) {
    items.push_back(hole_item(Role::holes, hole, place.frame.at(spot.middle, aside), radius));
    aside += pitch;
  }
  return items;
}

std::vector<Item> draw_marks(const Place& place, Stretch along, Stretch lane,
                             const std::vector<GlyphId>& first, const std::vector<GlyphId>& last) {
  const bool down = place.frame.is_down();
  const auto length_of = [&](GlyphId id) { return down ? 1.0 : aspect(id); };
  constexpr double kSpacing = 0.16;
  double units = 0;
  for (const auto* list : {&first, &last}) {
    for (const GlyphId id : *list) units += length_of(id) + kSpacing;
  }
  if (units <= 0) return {};
  const double size = std::min(style::kMark * place.spacing.unit, along.length() / units);
  std::vector<Item> items;
  double at = along.from;
  const auto add = [&](GlyphId id) {
    const double fit = down ? std::min(1.0, lane.length() / (aspect(id) * size)) : 1;
    const double length = length_of(id) * size;
    const double middle = at + (length + kSpacing * size) / 2;
    items.push_back(glyph_item(Role::mark, id, place.frame.at(middle, lane.middle()), size * fit));
    at += length + kSpacing * size;
  };
  for (const GlyphId id : first) add(id);
  double after = 0;
  for (const GlyphId id : last) after += (length_of(id) + kSpacing) * size;
  at = along.to - after;
  for (const GlyphId id : last) add(id);
  return items;
}

}  // namespace yubifu::page
