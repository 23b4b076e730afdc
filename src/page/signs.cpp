#include "page/signs.h"

#include <algorithm>
#include <cstdlib>
#include <string>
#include <utility>

#include "page/style.h"
#include "page/text_fit.h"

namespace yubifu::page {
namespace {

constexpr double kTouch = 0.04;  // between a number and its additions, in units

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

// A bold text centred on a point.
Item bold_text(Role role, const std::string& words, Point center, double size) {
  constexpr double kBaseline = 0.35;
  Item item =
      line_of_text(role, words, {center.x, center.y + kBaseline * size}, size, TextAnchor::middle);
  std::get<TextShape>(item.shape).weight = TextWeight::bold;
  return item;
}

// Draws a tone around a point; the sizes follow its height alone.
class ToneDrawer {
 public:
  ToneDrawer(Role role, Point center, double height)
      : role_(role), center_(center), height_(height), right_(center.x) {}

  void add_sign(const model::Sign& sign) {
    const SignParts parts = parts_of(sign);
    if (const auto id = page::glyph_of(parts.base)) {
      push(glyph_item(role_, *id, center_, height_));
    } else {
      add_own_sign(parts.base);
    }
    if (!parts.dotted) return;
    constexpr double kOverDigit = style::kDotRoom - style::kThirdDot;
    push(dot_item(role_, {center_.x, center_.y - height_ / 2 - kOverDigit * height_},
                  style::kThirdDot * height_));
  }

  void add_gap(const model::Tone& tone) {
    constexpr double kText = 0.46;
    constexpr double kHalfHeight = 0.36;
    const double half_width = style::kHalfNumber * height_ * 0.96;
    const Box box{center_.x - half_width, center_.y - kHalfHeight * height_, center_.x + half_width,
                  center_.y + kHalfHeight * height_};
    push({role_, FrameShape{box, 2 * style::kThinRule * height_}, box, {}, {}});
    const double most = half_width * 1.8;
    if (tone.spelling) {
      append(items_, draw_note_name(role_, *tone.spelling, center_, kText * height_, most));
    } else {
      append(items_, {bold_text(role_, "?", center_, kText * height_)});
    }
  }

  // メ or カ at the upper right.
  void add_half_hole(model::HalfHole half, double size) {
    if (half == model::HalfHole::none) return;
    const GlyphId id = half == model::HalfHole::under ? GlyphId::half_under : GlyphId::half_over;
    const double half_width = aspect(id) * size / 2;
    const Point at{right_ + kTouch * height_ + half_width, center_.y - height_ / 2 + size / 2};
    Item item = glyph_item(role_ == Role::number ? Role::small_sign : role_, id, at, size);
    right_of_half_hole_ = item.box.right;
    items_.push_back(std::move(item));
  }

  double right() const { return right_; }
  double right_of_half_hole() const { return std::max(right_, right_of_half_hole_); }
  std::vector<Item> take() { return std::move(items_); }

 private:
  // A sign that only a flute file defines.
  void add_own_sign(const std::string& text) {
    constexpr double kBaseline = 0.38;
    const double width = std::min(text_width(text), 1.0) * height_;
    Item item = line_of_text(role_, text, {center_.x, center_.y + kBaseline * height_}, height_,
                             TextAnchor::middle, width);
    item.box.top = center_.y - height_ / 2;
    item.box.bottom = center_.y + height_ / 2;
    push(std::move(item));
  }

  void push(Item item) {
    right_ = std::max(right_, item.box.right);
    items_.push_back(std::move(item));
  }

  Role role_;
  Point center_;
  double height_;
  double right_;
  double right_of_half_hole_ = 0;
  std::vector<Item> items_;
};

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
  const Point left = place.frame.at(spot.cell.from + kTouch * place.spacing.unit, aside);
  std::vector<Item> items = bend_items(Role::bend, cents, left, height);
  const double most = spot.cell.length() - 2 * kTouch * place.spacing.unit;
  if (width_of(items) > most) {
    height *= most / width_of(items);
    items = bend_items(Role::bend, cents, left, height);
  }
  return items;
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
    const Point foot{drawer.right() + kTouch * spot.height,
                     place.frame.at(spot.middle, 0).y + (spot.height - heights.bend) / 2};
    bend = bend_items(Role::bend, fingering.bend_cents, foot, heights.bend);
  } else if (fingering.bend_cents != 0) {
    bend = bend_over(place, spot, fingering.bend_cents);
  }
  std::vector<Item> items = drawer.take();
  append(items, std::move(bend));
  return items;
}

std::vector<Item> draw_sign(Role role, const model::Fingering& fingering, Point center,
                            double height) {
  ToneDrawer drawer(role, center, height);
  drawer.add_sign(*fingering.sign);
  drawer.add_half_hole(fingering.half, style::kSmallSign * height);
  return drawer.take();
}

std::vector<Item> draw_note_name(Role role, const model::Spelling& spelling, Point center,
                                 double size, double most) {
  constexpr double kAccidental = 0.85;  // height, in units of the text's
  const std::string step(1, letter(spelling.step));
  const std::string octave = std::to_string(spelling.octave);
  const GlyphId accidental = spelling.alter < 0 ? GlyphId::flat : GlyphId::sharp;
  const int count = std::abs(spelling.alter);
  const double units =
      text_width(step) + count * kAccidental * aspect(accidental) + text_width(octave);
  size = std::min(size, most / units);
  double x = center.x - units * size / 2;
  std::vector<Item> items;
  const auto add_text = [&](const std::string& text) {
    const double width = text_width(text) * size;
    items.push_back(bold_text(role, text, {x + width / 2, center.y}, size));
    x += width;
  };
  add_text(step);
  for (int i = 0; i < count; ++i) {
    const double height = kAccidental * size;
    const double width = aspect(accidental) * height;
    items.push_back(glyph_item(role, accidental, {x + width / 2, center.y - 0.04 * size}, height));
    x += width;
  }
  add_text(octave);
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

namespace {

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

std::vector<Item> draw_graces(const Place& place, Stretch along,
                              const std::vector<model::Tone>& tones, GraceSide side) {
  if (tones.empty()) return {};
  const bool down = place.frame.is_down();
  double room = 0;
  for (const model::Tone& tone : tones) room += grace_room(tone, down);
  const double height = std::min({style::kGrace * place.spacing.unit, along.length() / room,
                                  down ? along.length() : place.lanes.graces.length() * 0.8});
  double at = side == GraceSide::before ? along.from : along.to - room * height;
  std::vector<Item> items;
  for (const model::Tone& tone : tones) {
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
      const double from = beside + 2 * kTouch * height;
      append(items, grace_bend(tone.fingering->bend_cents, {from, center.y + height / 2},
                               (down ? 0.5 : 0.44) * height, end - from));
    }
  }
  return items;
}

std::vector<Item> draw_holes(const Place& place, Stretch along, Stretch lane,
                             const model::HolePattern& pattern) {
  constexpr double kPitch = 2.35;  // in radii
  constexpr double kMostGrowth = 1.4;
  const auto count = static_cast<double>(pattern.holes.size());
  const double radius =
      std::min(style::kHole * kMostGrowth * place.spacing.unit, along.length() / (count * kPitch));
  std::vector<Item> items;
  double at = along.from + radius * kPitch / 2;
  for (const model::Hole hole : pattern.holes) {
    const Point center = place.frame.at(at, lane.middle());
    const Box box{center.x - radius, center.y - radius, center.x + radius, center.y + radius};
    items.push_back({Role::holes, HoleShape{hole, center, radius}, box, {}, {}});
    at += radius * kPitch;
  }
  return items;
}

std::vector<Item> draw_marks(const Place& place, Stretch along, Stretch lane,
                             const std::vector<GlyphId>& first, const std::vector<GlyphId>& last) {
  const bool down = place.frame.is_down();
  const auto length_of = [&](GlyphId id) { return down ? 1.0 : aspect(id); };
  constexpr double kSpacing = 0.12;
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

GlyphId glyph_of(model::Mark mark) {
  switch (mark) {
    case model::Mark::fermata:
      return GlyphId::fermata;
    case model::Mark::breath:
      return GlyphId::breath;
    case model::Mark::optional_breath:
      return GlyphId::optional_breath;
    case model::Mark::uchi:
      return GlyphId::strike;
    case model::Mark::age:
      return GlyphId::lift;
    case model::Mark::suri:
      return GlyphId::slide;
    case model::Mark::yuri:
      return GlyphId::vibrato;
    case model::Mark::trill:
      return GlyphId::trill;
    case model::Mark::accent:
      return GlyphId::accent;
    case model::Mark::staccato:
      return GlyphId::staccato;
    case model::Mark::tenuto:
      return GlyphId::tenuto;
  }
  return GlyphId::tenuto;
}

}  // namespace yubifu::page
