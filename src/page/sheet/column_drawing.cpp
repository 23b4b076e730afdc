#include "page/sheet/column_drawing.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include <fmt/ranges.h>

#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

struct LineDrawer {
  const Place& place;
  std::vector<Item> items = {};

  double unit() const { return place.spacing.unit; }

  void along(Role role, Stretch along, double aside, double pen) {
    items.push_back(line_item(role, place.frame.at(along.from, aside),
                              place.frame.at(along.to, aside), pen * unit()));
  }

  void aside(Role role, double along, Stretch aside, double pen) {
    items.push_back(line_item(role, place.frame.at(along, aside.from),
                              place.frame.at(along, aside.to), pen * unit()));
  }
};

// The strokes of a bar line in order: `:` its dots, `|` a thin and `#` a thick one.
std::string end_strokes(const model::Measure& measure) {
  if (measure.repeat_end) return ":|#";
  if (measure.right == model::BarStyle::final) return "|#";
  return measure.right == model::BarStyle::section ? "||" : "|";
}

// The line between two bars: the end of one and the start of the next share their strokes.
std::string between(std::string end, bool repeat_start) {
  if (!repeat_start) return end;
  if (end == "|") end.clear();
  if (!end.ends_with('#')) end += '#';
  return end + "|:";
}

double thickness(char stroke) {
  if (stroke == ':') return 2 * style::kRepeatDot;
  return stroke == '#' ? style::kThickRule : style::kThinRule;
}

// Draws the strokes around the middle of a gap.
void draw_rule(LineDrawer& drawer, const std::string& strokes, double middle) {
  double length = style::kRuleSpacing * static_cast<double>(strokes.size() - 1);
  for (const char stroke : strokes) length += thickness(stroke);
  const Lanes& lanes = drawer.place.lanes;
  const Stretch aside{-style::kHalfNumber * drawer.unit(),
                      std::max(lanes.beams.to, style::kHalfNumber * drawer.unit())};
  double at = middle - length * drawer.unit() / 2;
  for (const char stroke : strokes) {
    const double half = thickness(stroke) * drawer.unit() / 2;
    at += half;
    if (stroke == ':') {
      constexpr double kApart = 0.2;
      for (const double side : {-kApart, kApart}) {
        drawer.items.push_back(dot_item(Role::bar_line,
                                        drawer.place.frame.at(at, side * drawer.unit()),
                                        style::kRepeatDot * drawer.unit()));
      }
    } else {
      drawer.aside(Role::bar_line, at, aside, thickness(stroke));
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
      {Role::slur, curve, frame.box(along, {lane.to - lane.length() * kFill, lane.to})});
}

// A note that begins in a column, and where the middle of its number is.
struct Start {
  std::size_t note;
  double middle;
};

std::vector<Start> starts_of(const Place& place, const Column& column) {
  std::vector<Start> starts;
  for (const Piece& piece : column) {
    const Bar& bar = place.bar_of(piece);
    const auto [begin, end] = cells_of(bar, piece);
    for (std::size_t i = begin; i < end; ++i) {
      if (bar.cells[i].kind != CellKind::number) continue;
      starts.push_back({*bar.cells[i].note, spot_of(place, piece, bar.cells[i]).middle});
    }
  }
  return starts;
}

// Beams and brackets stand beside the numbers, and where their word has small signs, beside these.
// How much nearer to the numbers than their lane the lines of the word at a step may stand.
double free_at(const Place& place, const Piece& piece, double step) {
  const Bar& bar = place.bar_of(piece);
  const auto next = std::upper_bound(bar.seams.begin(), bar.seams.end(), step + style::kSlack);
  Piece word = piece;
  if (next != bar.seams.begin()) word.from = *std::prev(next);
  word.last = next == bar.seams.end();
  if (!word.last) word.to = *next;
  const auto [begin, end] = cells_of(bar, word);
  for (std::size_t i = begin; i < end; ++i) {
    if (bar.cells[i].kind != CellKind::number) continue;
    const model::Fingering& fingering = *place.score.notes[*bar.cells[i].note].tone.fingering;
    if (fingering.half != model::HalfHole::none || fingering.bend_cents != 0) return 0;
  }
  return place.lanes.beams.from - place.lanes.numbers.to;
}

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

// Beams and brackets of a piece.
std::vector<Item> draw_groups(const Place& place, const Piece& piece) {
  LineDrawer drawer{place};
  const Bar& bar = place.bar_of(piece);
  const auto [begin, end] = cells_of(bar, piece);
  const double unit = place.spacing.unit;
  for (const Beam& beam : bar.beams) {
    if (beam.first < begin || beam.first >= end) continue;
    const double aside = place.lanes.beams.from -
                         free_at(place, piece, bar.cells[beam.first].begin) +
                         (style::kBeamGap + style::kBeamSpacing * (beam.rank - 1)) * unit;
    drawer.along(Role::beam,
                 {spot_of(place, piece, bar.cells[beam.first]).sign().from,
                  spot_of(place, piece, bar.cells[beam.last]).sign().to},
                 aside, style::kBeamPen);
  }
  for (const Bracket& bracket : bar.brackets) {
    if (bracket.begin < piece.from || bracket.begin >= piece.to) continue;
    draw_bracket(drawer, piece, bracket, free_at(place, piece, bracket.begin));
  }
  return std::move(drawer.items);
}

// The line before a piece that begins a column, or between it and the piece before it.
std::vector<Item> draw_bar_lines(const Place& place, const Column& column, std::size_t index) {
  LineDrawer drawer{place};
  const Piece& piece = column[index];
  const double half_gap = place.spacing.gap / 2;
  if (index == 0 && piece.first && place.measure_of(piece).repeat_start) {
    draw_rule(drawer, "#|:", piece.begin - half_gap);
  }
  if (piece.last) {
    const bool followed = index + 1 < column.size();
    const bool repeat_start = followed && place.measure_of(column[index + 1]).repeat_start;
    draw_rule(drawer, between(end_strokes(place.measure_of(piece)), repeat_start),
              piece.end() + half_gap);
  }
  return std::move(drawer.items);
}

// Slurs and slides, those that come from the column before or go on included.
std::vector<Item> draw_slurs(const Place& place, const Column& column) {
  const Stretch lane = place.lanes.slurs;
  if (lane.length() <= 0 || column.empty()) return {};
  LineDrawer drawer{place};
  const auto& notes = place.score.notes;
  const std::vector<Start> starts = starts_of(place, column);
  const double end = column.back().end();
  // From the column before, as far as that ends in the middle of a slur.
  bool is_open = !starts.empty() && starts[0].note > 0 && notes[starts[0].note - 1].slur_to_next;
  constexpr double kBefore = 0.3;
  double from = std::max(0.0, column.front().begin - kBefore * place.spacing.unit);
  for (const Start& start : starts) {
    if (is_open == notes[start.note].slur_to_next) continue;
    if (is_open) draw_slur(drawer, {from, start.middle});
    is_open = !is_open;
    from = start.middle;
  }
  if (is_open) draw_slur(drawer, {from, end});
  for (std::size_t i = 0; i < starts.size(); ++i) {
    if (!notes[starts[i].note].has(model::Mark::suri)) continue;
    const double to = i + 1 < starts.size() ? starts[i + 1].middle : end;
    drawer.along(Role::slur, {starts[i].middle, to}, lane.to - lane.length() / 3, style::kSlurPen);
  }
  return std::move(drawer.items);
}

// The lines of the endings, each with its numbers, and hooks where it begins and stops.
std::vector<Item> draw_endings(const Place& place, const Column& column) {
  LineDrawer drawer{place};
  const double unit = place.spacing.unit;
  const Stretch lane = place.lanes.endings;
  const bool down = place.frame.is_down();
  const double inset = 0.1 * unit;
  // Far from the numbers, so that nobody takes it for the bar of a half beat.
  const double line = down ? lane.to - inset : lane.from + inset;
  const double hook = down ? line - 0.3 * unit : line + 0.3 * unit;
  const Stretch hooks{std::min(line, hook), std::max(line, hook)};
  for (const Piece& piece : column) {
    const std::size_t index = place.bar_of(piece).measure;
    const model::Measure& measure = place.measure_of(piece);
    if (measure.ending.empty()) continue;
    const bool starts = piece.first && ending_starts(place.score, index);
    const bool stops = piece.last && ending_stops(place.score, index);
    const double gap = piece.last && !stops ? place.spacing.gap : 0;
    const Stretch along{piece.begin + (starts ? inset : 0), piece.end() + gap};
    drawer.along(Role::ending, along, line, style::kBracketPen);
    if (stops) drawer.aside(Role::ending, along.to, hooks, style::kBracketPen);
    if (!starts) continue;
    drawer.aside(Role::ending, along.from, hooks, style::kBracketPen);
    const double size = 0.4 * unit;
    const std::string text = fmt::format("{}.", fmt::join(measure.ending, ","));
    const double room = down ? lane.length() - 2.2 * inset : along.length() - 2 * inset;
    const Point corner = down ? place.frame.at(along.from + inset + 0.8 * size, lane.from + inset)
                              : place.frame.at(along.from + inset, line + inset + 0.8 * size);
    drawer.items.push_back(line_of_text(Role::ending, text, corner, size, TextAnchor::start,
                                        std::min(room, text_width(text) * size)));
  }
  return std::move(drawer.items);
}

// In brackets and off the axis of the numbers, so that nobody plays it.
std::vector<Item> draw_bar_number(const Place& place, const Column& column) {
  if (column.empty() || !column.front().first) return {};
  const std::string text = "(" + place.measure_of(column.front()).number + ")";
  double size = style::kBarNumberText;
  const double before = -0.35 * size;
  if (!place.frame.is_down()) {
    const Point at = place.frame.at(before, place.lanes.numbers.from + kAscent * size);
    return {line_of_text(Role::bar_number, text, at, size, TextAnchor::end)};
  }
  // To the right of the axis, and not over the numbers of the next column.
  constexpr double kOffAxis = 0.1;
  const double aside = kOffAxis * place.spacing.unit;
  const double most = place.lanes.all.to + style::kBarNumberOver - aside;
  size = std::min(size, most / text_width(text));
  return {line_of_text(Role::bar_number, text, place.frame.at(before, aside), size)};
}

std::string closing_sign(const model::Measure& measure) {
  if (measure.repeat_end) {
    return measure.times == 2 ? ":|" : fmt::format(":|x{}", measure.times);
  }
  if (measure.right == model::BarStyle::final) return "|=";
  return measure.right == model::BarStyle::section ? "||" : "|";
}

// The fingering text of a piece, unseen over its drawn signs, with the bar signs at its ends.
std::vector<Item> draw_words(const Place& place, const Piece& piece) {
  const Bar& bar = place.bar_of(piece);
  const model::Measure& measure = place.measure_of(piece);
  UnseenText text;
  Box all;
  const auto add = [&](const std::string& words, double middle, double size,
                       std::optional<std::size_t> note = std::nullopt) {
    if (words.empty()) return;
    const Box box = box_around(place.frame.at(middle, 0), size / 2, size / 2);
    all = text.runs.empty() ? box : joined(all, box);
    if (note) note = place.strip.tone_numbers[*note];
    text.runs.push_back({words, box, note});
  };
  const double half_gap = place.spacing.gap / 2;
  const double sign = std::min(place.spacing.gap, place.spacing.unit * style::kHalfNumber);
  if (piece.first) add(measure.repeat_start ? "|:" : "", piece.begin - half_gap, sign);
  const auto [begin, end] = cells_of(bar, piece);
  for (std::size_t i = begin; i < end; ++i) {
    const Spot spot = spot_of(place, piece, bar.cells[i]);
    add(bar.cells[i].words, spot.middle, spot.height, bar.cells[i].note);
  }
  if (piece.last) add(closing_sign(measure), piece.end() + half_gap, sign);
  if (text.runs.empty()) return {};
  return {{Role::words, std::move(text), all}};
}

// One syllable beside its note.
std::vector<Item> draw_syllable(const Place& place, const Piece& piece, std::size_t cell,
                                const model::Syllable& syllable) {
  constexpr double kFill = 0.94;  // of the room along the column
  const Stretch lane = place.lanes.verses[verse_index(place.score, syllable)];
  if (lane.length() <= 0) return {};
  const bool down = place.frame.is_down();
  const bool shoga = syllable.verse == model::kShogaVerse;
  const Role role = shoga ? Role::shoga : Role::song;
  const double most = (shoga ? style::kShogaText : style::kSongText) * place.spacing.unit;
  const Bar& bar = place.bar_of(piece);
  const Stretch room = extent_of_note(bar, piece, cell);
  const double middle = spot_of(place, piece, bar.cells[cell]).middle;
  // All of it stands around the middle of its number as far as there is room.
  const auto begin = [&](double length) {
    return std::clamp(middle - length / 2, room.from, room.to - length);
  };
  if (syllable.extends) {
    // The syllable goes on: a thin line along the lane.
    constexpr double kPen = 0.03;
    const double inset = 0.1 * room.length();
    const double aside = down ? lane.middle() : lane.to - 0.3 * most;
    return {line_item(role, place.frame.at(room.from + inset, aside),
                      place.frame.at(room.to - inset, aside), kPen * place.spacing.unit)};
  }
  if (syllable.text.empty()) return {};
  const std::string text = syllable_text(syllable);
  if (!down) {
    constexpr double kMostSqueezed = 1.25;
    const double natural = text_width(text) * most;
    const double width = std::min(natural, kFill * room.length());
    const double size = std::min(most, most * width / natural * kMostSqueezed);
    const Point at = place.frame.at(begin(width), lane.middle() + 0.36 * most);
    return {line_of_text(role, text, at, size, TextAnchor::start, width)};
  }
  const auto runs = column_runs(text);
  if (std::any_of(runs.begin(), runs.end(), [](const ColumnRun& run) { return run.upright; })) {
    const double length = column_length(text);
    const double size = std::min(most, kFill * room.length() / length);
    const Point at = place.frame.at(begin(length * size), lane.middle());
    return column_of_text(role, text, at, size, room.length());
  }
  // Latin syllables stand upright beside the number, all of them, as they are read.
  constexpr double kMargin = 0.96;
  constexpr double kBaseline = 0.34;  // under the middle
  const double size = std::min(
      {most, kMargin * lane.length() / text_width(text), room.length() / (kAscent + kDescent)});
  const double highest = room.from + kAscent * size;
  const double along =
      std::clamp(middle + kBaseline * size, highest, std::max(highest, room.to - kDescent * size));
  return {line_of_text(role, text, place.frame.at(along, shoga ? lane.from : lane.to), size,
                       shoga ? TextAnchor::start : TextAnchor::end)};
}

void append_song(std::vector<Item>& items, const Place& place, const Piece& piece) {
  const Bar& bar = place.bar_of(piece);
  const auto [begin, end] = cells_of(bar, piece);
  for (std::size_t i = begin; i < end; ++i) {
    if (bar.cells[i].kind != CellKind::number) continue;
    const std::size_t note = *bar.cells[i].note;
    for (const model::Syllable& syllable : place.score.notes[note].syllables) {
      for (Item& item : draw_syllable(place, piece, i, syllable)) {
        item.note = place.strip.tone_numbers[note];
        items.push_back(std::move(item));
      }
    }
  }
}

}  // namespace

Item draw_verse_number(const Place& place, const std::string& verse, Stretch lane) {
  const double size = std::min(style::kBarNumberText, style::kSongText * place.spacing.unit);
  const bool down = place.frame.is_down();
  const Point at = place.frame.at(-0.35 * size, down ? lane.middle() : lane.middle() + 0.36 * size);
  return line_of_text(Role::bar_number, verse + ".", at, size,
                      down ? TextAnchor::middle : TextAnchor::end);
}

std::vector<Item> draw_column(const Place& place, const Column& column,
                              const std::vector<PlacedLabel>& labels) {
  std::vector<Item> items = draw_bar_number(place, column);
  for (std::size_t i = 0; i < column.size(); ++i) {
    const Piece& piece = column[i];
    const std::size_t first = items.size();
    append(items, draw_words(place, piece));
    append(items, draw_bar_lines(place, column, i));
    append(items, draw_signs(place, piece));
    append(items, draw_groups(place, piece));
    for (std::size_t item = first; item < items.size(); ++item) items[item].bar = i;
  }
  append(items, draw_slurs(place, column));
  append(items, draw_endings(place, column));
  for (const Piece& piece : column) append_song(items, place, piece);
  for (const PlacedLabel& label : labels) {
    append(items, draw_label(label, place.frame, place.lanes.labels[label.lane]));
  }
  return items;
}

}  // namespace yubifu::page
