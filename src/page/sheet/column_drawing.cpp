#include "page/sheet/column_drawing.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

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
