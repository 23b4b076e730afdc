#include "page/sheet/column_drawing.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

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

// From the start of a cell to the end of the last cell after it that holds the same note in the
// piece.
Stretch extent_of_note(const Bar& bar, const Piece& piece, std::size_t cell) {
  std::size_t last = cell;
  const std::size_t end = cells_of(bar, piece).end;
  while (last + 1 < end && bar.cells[last + 1].note == bar.cells[cell].note) ++last;
  return {piece.at(bar.cells[cell].begin),
          piece.at(bar.cells[last].begin + bar.cells[last].length)};
}

// Draws the numbers, rests, strokes, grace notes, marks and patterns of one piece.
class PieceDrawer {
 public:
  PieceDrawer(const Music& music, const Place& place, const Piece& piece)
      : music_(music), place_(place), piece_(piece), bar_(music.strip.bars[piece.bar]) {}

  std::vector<Item> run() {
    const CellRange range = cells_of(bar_, piece_);
    for (std::size_t i = range.begin; i < range.end; ++i) draw(i);
    return std::move(items_);
  }

 private:
  void draw(std::size_t index) {
    const Cell& cell = bar_.cells[index];
    const Spot spot = spot_of(place_, piece_, cell);
    switch (cell.kind) {
      case CellKind::number:
        add_note(cell.note, draw_tone(place_, spot, note_of(cell).tone));
        add_holes(cell, spot);
        break;
      case CellKind::held:
        add_note(cell.note, draw_held(place_, spot, cell.stroke));
        break;
      case CellKind::free_hold:
        add_free_hold(index, spot);
        break;
      case CellKind::rest:
        add_note(std::nullopt, draw_rest(place_, spot));
        break;
    }
    add_marks(cell, spot);
    if (cell.note) add_graces(cell, spot);
  }

  const model::Note& note_of(const Cell& cell) const { return music_.score.notes[*cell.note]; }

  void add_note(std::optional<std::size_t> note, std::vector<Item> items) {
    for (Item& item : items) {
      if (note) item.note = music_.strip.tone_numbers[*note];
    }
    append(items_, std::move(items));
  }

  // One stroke over all beats of the hold in this piece.
  void add_free_hold(std::size_t index, Spot spot) {
    const auto holds = [&](const Cell& cell) {
      return cell.kind == CellKind::free_hold && cell.note == bar_.cells[index].note;
    };
    if (index > cells_of(bar_, piece_).begin && holds(bar_.cells[index - 1])) return;
    spot.cell.to = extent_of_note(bar_, piece_, index).to;
    add_note(bar_.cells[index].note, draw_free_hold(place_, spot));
  }

  void add_holes(const Cell& cell, const Spot& spot) {
    const auto pattern = shown_holes(note_of(cell), place_.holes);
    if (!pattern) return;
    const Stretch lane = nearer(place_.lanes.holes, has_graces(cell) ? 0 : grace_width());
    add_note(cell.note, draw_holes(place_, spot, lane, *pattern));
  }

  // Marks stand at the start of a note, breath at its end.
  void add_marks(const Cell& cell, const Spot& spot) {
    std::vector<GlyphId> first;
    std::vector<GlyphId> last;
    if (cell.kind == CellKind::rest && cell.rest) {
      for (const model::Mark mark : music_.score.rests[*cell.rest].marks) {
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
    add_note(cell.note, draw_marks(place_, spot.cell, mark_lane(cell), first, last));
  }

  // Lanes that a note leaves empty do not part it from its marks.
  Stretch mark_lane(const Cell& cell) const {
    double by = has_graces(cell) ? 0 : grace_width();
    if (!cell.note || !shown_holes(note_of(cell), place_.holes)) by += place_.lanes.holes.length();
    return nearer(place_.lanes.marks, by);
  }

  static Stretch nearer(Stretch lane, double by) { return {lane.from + by, lane.to + by}; }

  double grace_width() const { return place_.lanes.graces.length(); }

  bool has_graces(const Cell& cell) const { return cell.note && note_of(cell).grace_count() > 0; }

  static bool is_breath(model::Mark mark) {
    return mark == model::Mark::breath || mark == model::Mark::optional_breath;
  }

  // A long stroke says fermata by itself, but only among strokes read down.
  bool is_drawn(std::size_t note, model::Mark mark) const {
    if (mark != model::Mark::fermata || music_.strip.fermata_signs[note]) return true;
    return place_.held == HeldBeats::dashes || !place_.frame.is_down();
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
    const std::size_t number = music_.strip.tone_numbers[*cell.note];
    if (before) {
      append(items_, draw_graces(place_, first, note.grace_before, GraceSide::before,
                                 number - note.grace_before.size()));
    }
    if (after) {
      append(items_, draw_graces(place_, last, note.grace_after, GraceSide::after, number + 1));
    }
  }

  const Music& music_;
  const Place& place_;
  const Piece& piece_;
  const Bar& bar_;
  std::vector<Item> items_;
};

// In brackets and off the axis of the numbers, so that nobody plays it.
std::vector<Item> draw_bar_number(const Music& music, const Place& place, const Column& column) {
  if (column.pieces.empty() || !column.pieces.front().first) return {};
  const std::string& number =
      music.score.measures[music.strip.bars[column.pieces.front().bar].measure].number;
  const std::string text = "(" + number + ")";
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
  switch (measure.right) {
    case model::BarStyle::regular:
      return "|";
    case model::BarStyle::section:
      return "||";
    case model::BarStyle::final:
      return "|=";
  }
  return {};
}

// The fingering text of a piece, unseen over its drawn signs, with the bar signs at its ends.
std::vector<Item> draw_words(const Music& music, const Place& place, const Piece& piece) {
  const Bar& bar = music.strip.bars[piece.bar];
  const model::Measure& measure = music.score.measures[bar.measure];
  UnseenText text;
  Box all;
  const auto add = [&](const std::string& words, double middle, double size,
                       std::optional<std::size_t> note = std::nullopt) {
    if (words.empty()) return;
    const Box box = box_around(place.frame.at(middle, 0), size / 2, size / 2);
    all = text.runs.empty() ? box : joined(all, box);
    if (note) note = music.strip.tone_numbers[*note];
    text.runs.push_back({words, box, note});
  };
  const double half_gap = place.spacing.gap / 2;
  const double sign = std::min(place.spacing.gap, place.spacing.unit * style::kHalfNumber);
  if (piece.first) add(measure.repeat_start ? "|:" : "", piece.begin - half_gap, sign);
  const CellRange range = cells_of(bar, piece);
  for (std::size_t i = range.begin; i < range.end; ++i) {
    const Spot spot = spot_of(place, piece, bar.cells[i]);
    add(bar.cells[i].words, spot.middle, spot.height, bar.cells[i].note);
  }
  if (piece.last) add(closing_sign(measure), piece.end() + half_gap, sign);
  if (text.runs.empty()) return {};
  return {{Role::words, std::move(text), all, {}, {}}};
}

// Draws song text and sung syllables beside their notes.
class SongDrawer {
 public:
  SongDrawer(const Music& music, const Place& place, const Piece& piece)
      : music_(music), place_(place), piece_(piece), bar_(music.strip.bars[piece.bar]) {}

  std::vector<Item> run() {
    const CellRange range = cells_of(bar_, piece_);
    for (std::size_t i = range.begin; i < range.end; ++i) {
      if (bar_.cells[i].kind != CellKind::number) continue;
      const std::size_t first = items_.size();
      for (const model::Syllable& syllable : music_.score.notes[*bar_.cells[i].note].syllables) {
        add(i, syllable);
      }
      for (std::size_t item = first; item < items_.size(); ++item) {
        items_[item].note = music_.strip.tone_numbers[*bar_.cells[i].note];
      }
    }
    return std::move(items_);
  }

 private:
  static constexpr double kLinePen = 0.03;
  static constexpr double kFill = 0.94;  // of the room along the column

  void add(std::size_t cell, const model::Syllable& syllable) {
    lane_ = place_.lanes.verses[verse_index(music_.score, syllable)];
    if (lane_.length() <= 0) return;
    const bool shoga = syllable.verse == model::kShogaVerse;
    role_ = shoga ? Role::shoga : Role::song;
    size_ = (shoga ? style::kShogaText : style::kSongText) * place_.spacing.unit;
    const Stretch room = extent_of_note(bar_, piece_, cell);
    middle_ = spot_of(place_, piece_, bar_.cells[cell]).middle;
    if (syllable.extends) {
      add_extension(room);
    } else if (!syllable.text.empty()) {
      add_text(room, syllable_text(syllable));
    }
  }

  // The syllable goes on: a thin line along the lane.
  void add_extension(Stretch room) {
    const double inset = 0.1 * room.length();
    const double aside = place_.frame.is_down() ? lane_.middle() : lane_.to - 0.3 * size_;
    const Point from = place_.frame.at(room.from + inset, aside);
    const Point to = place_.frame.at(room.to - inset, aside);
    items_.push_back(line_item(role_, from, to, kLinePen * place_.spacing.unit));
  }

  void add_text(Stretch room, const std::string& text) {
    if (!place_.frame.is_down()) {
      add_line(room, text);
      return;
    }
    const auto runs = column_runs(text);
    const bool wide =
        std::any_of(runs.begin(), runs.end(), [](const ColumnRun& run) { return run.upright; });
    if (wide) {
      add_column(room, text, column_length(text));
    } else {
      add_latin(room, text);
    }
  }

  // Under the middle of the number as far as there is room, read across.
  void add_line(Stretch room, const std::string& text) {
    constexpr double kMostSqueezed = 1.25;
    const double natural = text_width(text) * size_;
    const double width = std::min(natural, kFill * room.length());
    const double size = std::min(size_, size_ * width / natural * kMostSqueezed);
    const double from = std::clamp(middle_ - width / 2, room.from, room.to - width);
    const Point at = place_.frame.at(from, lane_.middle() + 0.36 * size_);
    items_.push_back(line_of_text(role_, text, at, size, TextAnchor::start, width));
  }

  // Around the middle of the number as far as there is room.
  void add_column(Stretch room, const std::string& text, double length) {
    const double size = std::min(size_, kFill * room.length() / length);
    const double from = std::clamp(middle_ - length * size / 2, room.from, room.to - length * size);
    append(items_,
           column_of_text(role_, text, place_.frame.at(from, lane_.middle()), size, room.length()));
  }

  // Latin syllables stand upright beside the number, all of them, as they are read.
  void add_latin(Stretch room, const std::string& text) {
    constexpr double kMargin = 0.96;
    constexpr double kBaseline = 0.34;  // under the middle
    const double width = text_width(text);
    const double height = kAscent + kDescent;
    const double across =
        std::min({size_, kMargin * lane_.length() / width, room.length() / height});
    const bool right = role_ == Role::shoga;
    const double wanted = middle_ + kBaseline * across;
    const double highest = room.from + kAscent * across;
    const Point at =
        place_.frame.at(std::clamp(wanted, highest, std::max(highest, room.to - kDescent * across)),
                        right ? lane_.from : lane_.to);
    items_.push_back(
        line_of_text(role_, text, at, across, right ? TextAnchor::start : TextAnchor::end));
  }

  const Music& music_;
  const Place& place_;
  const Piece& piece_;
  const Bar& bar_;
  Stretch lane_;
  Role role_ = Role::song;
  double size_ = 0;
  double middle_ = 0;
  std::vector<Item> items_;
};

}  // namespace

std::vector<Item> draw_verse_number(const Place& place, const std::string& verse, Stretch lane) {
  const double size = std::min(style::kBarNumberText, style::kSongText * place.spacing.unit);
  const bool down = place.frame.is_down();
  const Point at = place.frame.at(-0.35 * size, down ? lane.middle() : lane.middle() + 0.36 * size);
  return {line_of_text(Role::bar_number, verse + ".", at, size,
                       down ? TextAnchor::middle : TextAnchor::end)};
}

std::vector<Item> draw_column(const Music& music, const Place& place, const Column& column,
                              const std::vector<PlacedLabel>& labels) {
  std::vector<Item> items = draw_bar_number(music, place, column);
  for (std::size_t i = 0; i < column.pieces.size(); ++i) {
    const Piece& piece = column.pieces[i];
    const std::size_t first = items.size();
    append(items, draw_words(music, place, piece));
    append(items, draw_bar_lines(music, place, column, i));
    append(items, PieceDrawer(music, place, piece).run());
    append(items, draw_groups(music, place, piece));
    for (std::size_t item = first; item < items.size(); ++item) items[item].bar = i;
  }
  append(items, draw_slurs(music, place, column));
  append(items, draw_endings(music, place, column));
  for (const Piece& piece : column.pieces) append(items, SongDrawer(music, place, piece).run());
  for (const PlacedLabel& label : labels) {
    append(items, draw_label(music.labels[label.label], label, place.frame,
                             place.lanes.labels[label.lane]));
  }
  return items;
}

}  // namespace yubifu::page
