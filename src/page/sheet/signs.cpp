// The signs of a piece: numbers with their additions, strokes, grace notes, marks.
#include <algorithm>
#include <cstdlib>
#include <utility>

#include "page/sheet/column_drawing.h"
#include "page/style.h"

namespace yubifu::page {
namespace {

GlyphId glyph_of(model::Mark mark) {
  return static_cast<GlyphId>(static_cast<int>(GlyphId::fermata) + static_cast<int>(mark));
}

bool is_breath(model::Mark mark) {
  return mark == model::Mark::breath || mark == model::Mark::optional_breath;
}

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

// The height, or what makes the bend at most so wide.
double fitting_height(int cents, double height, double most) {
  const auto items = bend_items(Role::bend, cents, {}, height);
  return height * std::min(1.0, most / (items.back().box.right - items.front().box.left));
}

std::vector<Item> bend_over(const Place& place, const Spot& spot, int cents) {
  constexpr double kTaken = 0.9;  // of the lane
  const double touch = style::kTouch * place.spacing.unit;
  const Point left = place.frame.at(spot.cell.from + touch, place.lanes.bends.middle());
  const double height =
      fitting_height(cents, kTaken * place.lanes.bends.length(), spot.cell.length() - 2 * touch);
  return bend_items(Role::bend, cents, left, height);
}

// Small signs keep readable beside small numbers.
double addition_ratio(double ratio, double least) {
  return ratio >= style::kLeastRatio ? std::max(ratio, least) : ratio * least / style::kLeastRatio;
}

// The number of a tone with its small signs and bend; a gap as its pitch in a frame.
std::vector<Item> draw_tone(const Place& place, const Spot& spot, const model::Tone& tone) {
  constexpr double kLeastHalfHole = 0.75;
  constexpr double kLeastBend = 0.8;
  constexpr double kBoth = 0.98;  // of the number's height
  const model::Fingering& fingering = *tone.fingering;
  const bool down = place.frame.is_down();
  const double unit = place.spacing.unit;
  double half_hole =
      style::kSmallSign * unit * addition_ratio(spot.ratio, down ? kLeastHalfHole : 0);
  double bend = style::kBendText * unit * addition_ratio(spot.ratio, kLeastBend);
  // They stand at the right of the number, one over the other.
  const bool both = fingering.half != model::HalfHole::none && fingering.bend_cents != 0;
  const double all = half_hole + bend;
  if (down && both && all > kBoth * spot.height) {
    half_hole *= kBoth * spot.height / all;
    bend *= kBoth * spot.height / all;
  }
  const Point center = place.frame.at(spot.middle, 0);
  DrawnSign drawn = draw_sign(Role::number, tone, center, spot.height, half_hole);
  if (fingering.bend_cents != 0 && down) {
    const Point foot{drawn.right + style::kTouch * spot.height,
                     center.y + (spot.height - bend) / 2};
    append(drawn.items, bend_items(Role::bend, fingering.bend_cents, foot, bend));
  } else if (fingering.bend_cents != 0) {
    append(drawn.items, bend_over(place, spot, fingering.bend_cents));
  }
  return std::move(drawn.items);
}

// The stroke or dash of a held beat.
Item draw_held(const Place& place, const Spot& spot, Stroke stroke) {
  const double height = spot.height;
  const double pen = style::kStrokePen * height;
  const double offset = style::kStrokeOffset * height;
  if (place.options.held == HeldBeats::dashes) {
    // A dash lies along the column; in a row it stands off the axis, so that it is no 一.
    const double half = style::kDashLength * height / 2;
    const double aside = place.frame.is_down() ? 0 : offset;
    return line_item(Role::stroke, place.frame.at(spot.middle - half, aside),
                     place.frame.at(spot.middle + half, aside), pen);
  }
  if (stroke == Stroke::diagonal) {
    const Point center = place.frame.at(spot.middle, 0);
    const double half = style::kDiagonalHalf * height;
    return line_item(Role::stroke, {center.x + half, center.y - half},
                     {center.x - half, center.y + half}, pen);
  }
  const Point off = place.frame.at(spot.middle, offset);
  const double across = stroke == Stroke::level ? style::kLevelLength * height / 2 : 0;
  const double up = stroke == Stroke::upright ? style::kUprightLength * height / 2 : 0;
  return line_item(Role::stroke, {off.x - across, off.y - up}, {off.x + across, off.y + up}, pen);
}

// What a grace note takes along the column, in its heights: with its dot, in a row with additions.
double grace_room(const model::Tone& tone, bool down) {
  if (down) return 1.3;
  return tone.fingering->bend_cents != 0 ? 2.4 : 1.7;
}

enum class GraceSide { before, after };

// Small numbers from `along.from`, or up to `along.to`; `first` is the number of the first tone.
std::vector<Item> draw_graces(const Place& place, Stretch along,
                              const std::vector<model::Tone>& tones, GraceSide side,
                              std::size_t first) {
  const bool down = place.frame.is_down();
  const Stretch lane = place.lanes.graces;
  double room = 0;
  for (const model::Tone& tone : tones) room += grace_room(tone, down);
  const double height = std::min({style::kGrace * place.spacing.unit, along.length() / room,
                                  down ? along.length() : lane.length() * 0.8});
  const double aside = down ? lane.from + height * 0.52 : lane.to - height * 0.55;
  double at = side == GraceSide::before ? along.from : along.to - room * height;
  std::vector<Item> items;
  for (const model::Tone& tone : tones) {
    const double middle = at + (down ? 0.75 : 0.5) * height;
    const Point center = place.frame.at(middle, aside);
    DrawnSign drawn = draw_sign(Role::grace, tone, center, height, 0.5 * height);
    at += grace_room(tone, down) * height;
    if (const int cents = tone.fingering->bend_cents; cents != 0) {
      // Beside its half hole, and in a row under that.
      constexpr double kBetween = 0.1;
      const double end = down ? place.frame.at(middle, lane.to).x
                              : place.frame.at(at, aside).x - kBetween * height;
      const double from =
          (down ? drawn.right_of_half_hole : drawn.right) + 2 * style::kTouch * height;
      const double size = fitting_height(cents, (down ? 0.5 : 0.44) * height, end - from);
      const Point left{from, center.y + height / 2 - size / 2};
      append(drawn.items, bend_items(Role::grace, cents, left, size));
    }
    for (Item& item : drawn.items) item.note = first;
    append(items, std::move(drawn.items));
    ++first;
  }
  return items;
}

// Holes across the lane, up to the numbers: to the right in columns, down in rows, mouth end first.
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

// Signs in a lane: `first` from the start of the stretch, `last` up to its end.
std::vector<Item> draw_marks(const Place& place, Stretch along, Stretch lane,
                             const std::vector<GlyphId>& first, const std::vector<GlyphId>& last) {
  constexpr double kSpacing = 0.16;
  const bool down = place.frame.is_down();
  const auto units_of = [&](const std::vector<GlyphId>& list) {
    double units = 0;
    for (const GlyphId id : list) units += (down ? 1.0 : aspect(id)) + kSpacing;
    return units;
  };
  const double size = std::min(style::kMark * place.spacing.unit,
                               along.length() / (units_of(first) + units_of(last)));
  std::vector<Item> items;
  const auto add = [&](double at, const std::vector<GlyphId>& list) {
    for (const GlyphId id : list) {
      const double fit = down ? std::min(1.0, lane.length() / (aspect(id) * size)) : 1;
      const double room = units_of({id}) * size;
      const Point center = place.frame.at(at + room / 2, lane.middle());
      items.push_back(glyph_item(Role::mark, id, center, size * fit));
      at += room;
    }
  };
  add(along.from, first);
  add(along.to - units_of(last) * size, last);
  return items;
}

struct PieceDrawer {
  const Place& place;
  const Piece& piece;
  const Bar& bar;
  std::vector<Item> items = {};

  void draw(std::size_t index) {
    const Cell& cell = bar.cells[index];
    const Spot spot = spot_of(place, piece, cell);
    switch (cell.kind) {
      case CellKind::number:
        add(cell, draw_tone(place, spot, note_of(cell).tone));
        add_holes(cell, spot);
        break;
      case CellKind::held:
        add(cell, {draw_held(place, spot, cell.stroke)});
        break;
      case CellKind::free_hold:
        add_free_hold(index);
        break;
      case CellKind::rest:
        add(cell,
            {dot_item(Role::rest, place.frame.at(spot.middle, 0), style::kRestDot * spot.height)});
        break;
    }
    add_marks(cell, spot);
    if (cell.note) add_graces(cell, spot);
  }

  const model::Note& note_of(const Cell& cell) const { return place.score.notes[*cell.note]; }

  void add(const Cell& cell, std::vector<Item> more) {
    for (Item& item : more) {
      if (cell.note) item.note = place.strip.tone_numbers[*cell.note];
    }
    append(items, std::move(more));
  }

  // One long stroke over all beats of the hold in this piece.
  void add_free_hold(std::size_t index) {
    const Cell& cell = bar.cells[index];
    const bool is_first = index == cells_of(bar, piece).first;
    const Cell& before = bar.cells[is_first ? index : index - 1];
    if (!is_first && before.kind == CellKind::free_hold && before.note == cell.note) return;
    const Stretch hold = extent_of_note(bar, piece, index);
    const double unit = place.spacing.unit;
    const double inset = style::kDotRoom * unit;
    const double aside = place.frame.is_down() ? 0 : style::kStrokeOffset * unit;
    add(cell, {line_item(Role::stroke, place.frame.at(hold.from + inset, aside),
                         place.frame.at(hold.to - inset, aside), style::kStrokePen * unit)});
  }

  void add_holes(const Cell& cell, const Spot& spot) {
    const auto pattern = shown_holes(note_of(cell), place.options.holes);
    if (!pattern) return;
    add(cell, draw_holes(place, spot, nearer(place.lanes.holes, idle_graces(cell)), *pattern));
  }

  // Marks stand at the start of a note, breath at its end.
  void add_marks(const Cell& cell, const Spot& spot) {
    std::vector<GlyphId> first;
    std::vector<GlyphId> last;
    if (cell.kind == CellKind::rest && cell.rest) {
      for (const model::Mark mark : place.score.rests[*cell.rest].marks) {
        (is_breath(mark) ? last : first).push_back(glyph_of(mark));
      }
    }
    if (cell.note) {
      for (const model::Mark mark : note_of(cell).marks) {
        if (is_breath(mark)) {
          if (cell.last_of_note) last.push_back(glyph_of(mark));
        } else if (cell.kind == CellKind::number && is_drawn(*cell.note, mark)) {
          first.push_back(glyph_of(mark));
        }
      }
    }
    if (first.empty() && last.empty()) return;
    // Lanes that a note leaves empty do not part it from its marks.
    double idle = idle_graces(cell);
    const bool has_holes = cell.note && shown_holes(note_of(cell), place.options.holes);
    if (!has_holes) idle += place.lanes.holes.length();
    add(cell, draw_marks(place, spot.cell, nearer(place.lanes.marks, idle), first, last));
  }

  static Stretch nearer(Stretch lane, double by) { return {lane.from + by, lane.to + by}; }

  // The width of the lane of grace notes, where the note has none.
  double idle_graces(const Cell& cell) const {
    const bool has_graces = cell.note && note_of(cell).grace_count() > 0;
    return has_graces ? 0 : place.lanes.graces.length();
  }

  // A long stroke says fermata by itself, but only among strokes read down.
  bool is_drawn(std::size_t note, model::Mark mark) const {
    if (mark != model::Mark::fermata || place.strip.fermata_signs[note]) return true;
    return place.options.held == HeldBeats::dashes || !place.frame.is_down();
  }

  void add_graces(const Cell& cell, const Spot& spot) {
    const model::Note& note = note_of(cell);
    const bool before = cell.kind == CellKind::number && !note.grace_before.empty();
    const bool after = cell.last_of_note && !note.grace_after.empty();
    Stretch first = spot.cell;
    Stretch last = spot.cell;
    if (before && after) {
      const auto count = static_cast<double>(note.grace_before.size());
      const auto all = static_cast<double>(note.grace_count());
      first.to = first.from + first.length() * count / all;
      last.from = first.to;
    }
    const std::size_t number = place.strip.tone_numbers[*cell.note];
    if (before) {
      append(items, draw_graces(place, first, note.grace_before, GraceSide::before,
                                number - note.grace_before.size()));
    }
    if (after) {
      append(items, draw_graces(place, last, note.grace_after, GraceSide::after, number + 1));
    }
  }
};

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

Stretch extent_of_note(const Bar& bar, const Piece& piece, std::size_t cell) {
  std::size_t last = cell;
  const std::size_t end = cells_of(bar, piece).second;
  while (last + 1 < end && bar.cells[last + 1].note == bar.cells[cell].note) ++last;
  return {piece.at(bar.cells[cell].begin),
          piece.at(bar.cells[last].begin + bar.cells[last].length)};
}

std::vector<Item> draw_signs(const Place& place, const Piece& piece) {
  PieceDrawer drawer{place, piece, place.bar_of(piece)};
  const auto [begin, end] = cells_of(drawer.bar, piece);
  for (std::size_t i = begin; i < end; ++i) drawer.draw(i);
  return std::move(drawer.items);
}

}  // namespace yubifu::page
