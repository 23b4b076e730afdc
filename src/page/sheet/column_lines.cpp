// The lines of a column: bar lines, beams, brackets, slurs, endings.
#include <algorithm>
#include <string>
#include <utility>

#include "page/sheet/column_drawing.h"
#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

struct LineDrawer {
  const Place& place;
  std::vector<Item> items;

  double unit() const { return place.spacing.unit; }

  void line(Role role, Point from, Point to, double pen) {
    items.push_back(line_item(role, from, to, pen * unit()));
  }

  void along(Role role, Stretch along, double aside, double pen) {
    line(role, place.frame.at(along.from, aside), place.frame.at(along.to, aside), pen);
  }

  void aside(Role role, double along, Stretch aside, double pen) {
    line(role, place.frame.at(along, aside.from), place.frame.at(along, aside.to), pen);
  }
};

enum class RulePart { dots, thin, thick };

using RuleParts = std::vector<RulePart>;

RuleParts end_parts(const model::Measure& measure) {
  if (measure.repeat_end) return {RulePart::dots, RulePart::thin, RulePart::thick};
  switch (measure.right) {
    case model::BarStyle::regular:
      return {RulePart::thin};
    case model::BarStyle::section:
      return {RulePart::thin, RulePart::thin};
    case model::BarStyle::final:
      return {RulePart::thin, RulePart::thick};
  }
  return {};
}

// The line between two bars: the end of one and the start of the next share their strokes.
RuleParts between(const RuleParts& end, bool repeat_start) {
  if (!repeat_start) return end;
  RuleParts parts = end;
  if (parts == RuleParts{RulePart::thin}) parts.clear();
  if (parts.empty() || parts.back() != RulePart::thick) parts.push_back(RulePart::thick);
  parts.push_back(RulePart::thin);
  parts.push_back(RulePart::dots);
  return parts;
}

double thickness(RulePart part) {
  switch (part) {
    case RulePart::dots:
      return 2 * style::kRepeatDot;
    case RulePart::thin:
      return style::kThinRule;
    case RulePart::thick:
      return style::kThickRule;
  }
  return 0;
}

// Draws the parts around the middle of a gap.
void draw_rule(LineDrawer& drawer, const RuleParts& parts, double middle) {
  double length = style::kRuleSpacing * static_cast<double>(parts.size() - 1);
  for (const RulePart part : parts) length += thickness(part);
  const Lanes& lanes = drawer.place.lanes;
  const Stretch aside{-style::kHalfNumber * drawer.unit(),
                      std::max(lanes.beams.to, style::kHalfNumber * drawer.unit())};
  double at = middle - length * drawer.unit() / 2;
  for (const RulePart part : parts) {
    const double half = thickness(part) * drawer.unit() / 2;
    at += half;
    if (part == RulePart::dots) {
      constexpr double kApart = 0.2;
      for (const double side : {-kApart, kApart}) {
        drawer.items.push_back(dot_item(Role::bar_line,
                                        drawer.place.frame.at(at, side * drawer.unit()),
                                        style::kRepeatDot * drawer.unit()));
      }
    } else {
      drawer.aside(Role::bar_line, at, aside, thickness(part));
    }
    at += half + style::kRuleSpacing * drawer.unit();
  }
}

// One curve from number to number, or to the end of the column.
void draw_slur(LineDrawer& drawer, Stretch along) {
  const Stretch lane = drawer.place.lanes.slurs;
  constexpr double kReach = 4.0 / 3;  // what the middle of the curve is pulled by
  constexpr double kFill = 0.85;
  const double far = lane.to - lane.length() * kFill * kReach;
  const double bow = std::min(along.length() * 0.3, drawer.unit() * 0.8);
  const Frame& frame = drawer.place.frame;
  CurveShape curve{frame.at(along.from, lane.to), frame.at(along.from + bow, far),
                   frame.at(along.to - bow, far), frame.at(along.to, lane.to),
                   std::max(style::kSlurPen * drawer.unit(), kThinnestLine)};
  drawer.items.push_back(
      {Role::slur, curve, frame.box(along, {lane.to - lane.length() * kFill, lane.to}), {}, {}});
}

// A place where a note begins in a column.
struct Start {
  std::size_t note;
  double middle;
  double from;
  double to;
};

std::vector<Start> starts_of(const Music& music, const Place& place, const Column& column) {
  std::vector<Start> starts;
  for (const Piece& piece : column.pieces) {
    const Bar& bar = music.strip.bars[piece.bar];
    const CellRange range = cells_of(bar, piece);
    for (std::size_t i = range.begin; i < range.end; ++i) {
      if (bar.cells[i].kind != CellKind::number) continue;
      const Spot spot = spot_of(place, piece, bar.cells[i]);
      starts.push_back({*bar.cells[i].note, spot.middle, spot.sign().from, spot.sign().to});
    }
  }
  return starts;
}

double end_of(const Column& column) {
  return column.pieces.back().end();
}

void draw_slides(LineDrawer& drawer, const Music& music, const std::vector<Start>& starts,
                 double end) {
  const double aside = drawer.place.lanes.slurs.to - drawer.place.lanes.slurs.length() / 3;
  for (std::size_t i = 0; i < starts.size(); ++i) {
    if (!music.score.notes[starts[i].note].has(model::Mark::suri)) continue;
    const double to = i + 1 < starts.size() ? starts[i + 1].middle : end;
    drawer.along(Role::slur, {starts[i].middle, to}, aside, style::kSlurPen);
  }
}

// Beams and brackets stand beside the numbers, and where their word has small signs, beside these.
class SmallSigns {
 public:
  SmallSigns(const Music& music, const Place& place, const Piece& piece)
      : seams_(music.strip.bars[piece.bar].seams), words_(seams_.size() + 1, false) {
    const Bar& bar = music.strip.bars[piece.bar];
    const CellRange range = cells_of(bar, piece);
    room_ = place.lanes.beams.from - place.lanes.numbers.to;
    for (std::size_t i = range.begin; i < range.end; ++i) {
      if (bar.cells[i].kind != CellKind::number) continue;
      const model::Fingering& fingering = *music.score.notes[*bar.cells[i].note].tone.fingering;
      if (fingering.half == model::HalfHole::none && fingering.bend_cents == 0) continue;
      words_[word_at(bar.cells[i].begin)] = true;
    }
  }

  // How much nearer to the numbers than their lane the lines of the word at a step may stand.
  double free_at(double step) const { return words_[word_at(step)] ? 0 : room_; }

 private:
  std::size_t word_at(double step) const {
    return static_cast<std::size_t>(
        std::upper_bound(seams_.begin(), seams_.end(), step + style::kSlack) - seams_.begin());
  }

  const std::vector<double>& seams_;
  std::vector<bool> words_;
  double room_ = 0;
};

// A line with hooks towards the numbers, broken in the middle by its number.
void draw_bracket(LineDrawer& drawer, const Piece& piece, const Bracket& bracket, double nearer) {
  const Place& place = drawer.place;
  const double unit = drawer.unit();
  const double lane = style::kBracketLane * unit;
  // In rows the lane lies above the numbers.
  const bool down = place.frame.is_down();
  const double side = down ? 1 : -1;
  const double near = down ? place.lanes.brackets.from - nearer : place.lanes.brackets.to;
  const double line = near + side * (bracket.rank + 0.5) * lane;
  const double hook = line - side * 0.16 * unit;
  // The hooks stay within the group with the whole width of their pen.
  const double inset = std::max(0.1 * std::min(unit, piece.step * (bracket.end - bracket.begin)),
                                style::kBracketPen * unit / 2);
  const Stretch along{piece.at(bracket.begin) + inset, piece.at(bracket.end) - inset};
  const std::string number = std::to_string(bracket.number);
  const double height = std::min(style::kBracketText * unit, along.length() / 3);
  const double digit = aspect(GlyphId::digit_0) * height;
  const double width = digit * static_cast<double>(number.size());
  // A bracket too short for lines beside its number has hooks alone.
  const double half = (down ? height : width) / 2 + 0.08 * unit;
  if (half < along.length() / 2) {
    drawer.along(Role::tuplet, {along.from, along.middle() - half}, line, style::kBracketPen);
    drawer.along(Role::tuplet, {along.middle() + half, along.to}, line, style::kBracketPen);
  }
  for (const double end : {along.from, along.to}) {
    drawer.aside(Role::tuplet, end, {std::min(hook, line), std::max(hook, line)},
                 style::kBracketPen);
  }
  Point at = place.frame.at(along.middle(), line);
  at.x -= (width - digit) / 2;
  for (const char c : number) {
    drawer.items.push_back(glyph_item(Role::tuplet, digit_glyph(c - '0'), at, height));
    at.x += digit;
  }
}

std::string ending_text(const std::vector<int>& numbers) {
  std::string text;
  for (const int number : numbers) text += (text.empty() ? "" : ",") + std::to_string(number);
  return text + ".";
}

}  // namespace

std::vector<Item> draw_groups(const Music& music, const Place& place, const Piece& piece) {
  LineDrawer drawer{place, {}};
  const Bar& bar = music.strip.bars[piece.bar];
  const CellRange range = cells_of(bar, piece);
  const double unit = place.spacing.unit;
  const SmallSigns small_signs(music, place, piece);
  for (const Beam& beam : bar.beams) {
    if (beam.first < range.begin || beam.first >= range.end) continue;
    const double aside = place.lanes.beams.from - small_signs.free_at(bar.cells[beam.first].begin) +
                         (style::kBeamGap + style::kBeamSpacing * (beam.rank - 1)) * unit;
    drawer.along(Role::beam,
                 {spot_of(place, piece, bar.cells[beam.first]).sign().from,
                  spot_of(place, piece, bar.cells[beam.last]).sign().to},
                 aside, style::kBeamPen);
  }
  for (const Bracket& bracket : bar.brackets) {
    if (bracket.begin < piece.from || bracket.begin >= piece.to) continue;
    draw_bracket(drawer, piece, bracket, small_signs.free_at(bracket.begin));
  }
  return std::move(drawer.items);
}

std::vector<Item> draw_bar_lines(const Music& music, const Place& place, const Column& column,
                                 std::size_t index) {
  LineDrawer drawer{place, {}};
  const Piece& piece = column.pieces[index];
  const auto measure_of = [&](const Piece& of) -> const model::Measure& {
    return music.score.measures[music.strip.bars[of.bar].measure];
  };
  const double half_gap = place.spacing.gap / 2;
  if (index == 0 && piece.first && measure_of(piece).repeat_start) {
    draw_rule(drawer, {RulePart::thick, RulePart::thin, RulePart::dots}, piece.begin - half_gap);
  }
  if (piece.last) {
    const bool followed = index + 1 < column.pieces.size();
    const bool repeat_start = followed && measure_of(column.pieces[index + 1]).repeat_start;
    draw_rule(drawer, between(end_parts(measure_of(piece)), repeat_start), piece.end() + half_gap);
  }
  return std::move(drawer.items);
}

std::vector<Item> draw_slurs(const Music& music, const Place& place, const Column& column) {
  if (place.lanes.slurs.length() <= 0 || column.pieces.empty()) return {};
  LineDrawer drawer{place, {}};
  const auto slurred = [&](std::size_t note) { return music.score.notes[note].slur_to_next; };
  const std::vector<Start> starts = starts_of(music, place, column);
  // From the column before, as far as that ends in the middle of a slur.
  bool is_open = !starts.empty() && starts[0].note > 0 && slurred(starts[0].note - 1);
  constexpr double kBefore = 0.3;
  double from = std::max(0.0, column.pieces.front().begin - kBefore * place.spacing.unit);
  for (const Start& start : starts) {
    if (is_open == slurred(start.note)) continue;
    if (is_open) draw_slur(drawer, {from, start.middle});
    is_open = !is_open;
    from = start.middle;
  }
  if (is_open) draw_slur(drawer, {from, end_of(column)});
  draw_slides(drawer, music, starts, end_of(column));
  return std::move(drawer.items);
}

std::vector<Item> draw_endings(const Music& music, const Place& place, const Column& column) {
  LineDrawer drawer{place, {}};
  const double unit = place.spacing.unit;
  const Stretch lane = place.lanes.endings;
  const bool down = place.frame.is_down();
  const double inset = 0.1 * unit;
  // Far from the numbers, so that nobody takes it for the bar of a half beat.
  const double line = down ? lane.to - inset : lane.from + inset;
  const double hook = down ? line - 0.3 * unit : line + 0.3 * unit;
  const Stretch hooks{std::min(line, hook), std::max(line, hook)};
  for (const Piece& piece : column.pieces) {
    const std::size_t index = music.strip.bars[piece.bar].measure;
    const model::Measure& measure = music.score.measures[index];
    if (measure.ending.empty()) continue;
    const bool starts = piece.first && ending_starts(music.score, index);
    const bool stops = piece.last && ending_stops(music.score, index);
    const double gap = piece.last && !stops ? place.spacing.gap : 0;
    const Stretch along{piece.begin + (starts ? inset : 0), piece.end() + gap};
    drawer.along(Role::ending, along, line, style::kBracketPen);
    if (stops) drawer.aside(Role::ending, along.to, hooks, style::kBracketPen);
    if (!starts) continue;
    drawer.aside(Role::ending, along.from, hooks, style::kBracketPen);
    const double size = 0.4 * unit;
    const std::string text = ending_text(measure.ending);
    const double room = down ? lane.length() - 2.2 * inset : along.length() - 2 * inset;
    const Point corner = down ? place.frame.at(along.from + inset + 0.8 * size, lane.from + inset)
                              : place.frame.at(along.from + inset, line + inset + 0.8 * size);
    drawer.items.push_back(line_of_text(Role::ending, text, corner, size, TextAnchor::start,
                                        std::min(room, text_width(text) * size)));
  }
  return std::move(drawer.items);
}

}  // namespace yubifu::page
