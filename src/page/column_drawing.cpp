#include "page/column_drawing.h"

#include <algorithm>
#include <utility>

#include "page/style.h"
#include "page/text_fit.h"

namespace yubifu::page {
namespace {

void add_for_note(std::vector<Item>& to, std::vector<Item> from, std::optional<std::size_t> note) {
  for (Item& item : from) {
    item.note = note;
    to.push_back(std::move(item));
  }
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
        add_holes(index);
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
    add_for_note(items_, std::move(items), note);
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

  void add_holes(std::size_t index) {
    const Cell& cell = bar_.cells[index];
    const auto& pattern = note_of(cell).asked_holes;
    if (!pattern) return;
    const Stretch lane = nearer(place_.lanes.holes, has_graces(cell) ? 0 : grace_width());
    add_note(cell.note, draw_holes(place_, extent_of_note(bar_, piece_, index), lane, *pattern));
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
    if (!cell.note || !note_of(cell).asked_holes) by += place_.lanes.holes.length();
    return nearer(place_.lanes.marks, by);
  }

  static Stretch nearer(Stretch lane, double by) { return {lane.from + by, lane.to + by}; }

  double grace_width() const { return place_.lanes.graces.length(); }

  bool has_graces(const Cell& cell) const {
    if (!cell.note) return false;
    return !note_of(cell).grace_before.empty() || !note_of(cell).grace_after.empty();
  }

  static bool is_breath(model::Mark mark) {
    return mark == model::Mark::breath || mark == model::Mark::optional_breath;
  }

  // A long stroke says fermata by itself, but only among strokes read down.
  bool is_drawn(std::size_t note, model::Mark mark) const {
    if (mark != model::Mark::fermata || music_.fermata_signs[note]) return true;
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
      const auto all = count + static_cast<double>(note.grace_after.size());
      first.to = first.from + first.length() * count / all;
      last.from = first.to;
    }
    if (before) {
      add_note(cell.note, draw_graces(place_, first, note.grace_before, GraceSide::before));
    }
    if (after) add_note(cell.note, draw_graces(place_, last, note.grace_after, GraceSide::after));
  }

  const Music& music_;
  const Place& place_;
  const Piece& piece_;
  const Bar& bar_;
  std::vector<Item> items_;
};

std::vector<Item> draw_bar_number(const Music& music, const Place& place, const Column& column) {
  if (column.pieces.empty() || !column.pieces.front().first) return {};
  const std::string& number =
      music.score.measures[music.strip.bars[column.pieces.front().bar].measure].number;
  double size = style::kBarNumberText;
  if (!place.frame.is_down()) {
    const Point at = place.frame.at(-0.35 * size, 0.35 * size);
    return {line_of_text(Role::bar_number, number, at, size, TextAnchor::end)};
  }
  // Over the numbers of its column, and not over the next one.
  const Stretch room = place.lanes.all;
  size = std::min(size, room.length() / text_width(number));
  const double half = text_width(number) * size / 2;
  const double aside =
      std::clamp(0.0, room.from + half, std::max(room.from + half, room.to - half));
  return {line_of_text(Role::bar_number, number, place.frame.at(-0.35 * size, aside), size,
                       TextAnchor::middle)};
}

}  // namespace

Music music_of(const model::Score& score, const Strip& strip, const std::vector<Label>& labels) {
  Music music{score, strip, labels, std::vector<bool>(score.notes.size(), false)};
  for (const std::size_t note : strip.fermata_signs) music.fermata_signs[note] = true;
  return music;
}

Stretch extent_of_note(const Bar& bar, const Piece& piece, std::size_t cell) {
  std::size_t last = cell;
  const std::size_t end = cells_of(bar, piece).end;
  while (last + 1 < end && bar.cells[last + 1].note == bar.cells[cell].note) ++last;
  return {piece.at(bar.cells[cell].begin),
          piece.at(bar.cells[last].begin + bar.cells[last].length)};
}

std::vector<Item> draw_column(const Music& music, const Place& place, const Column& column,
                              const std::vector<PlacedLabel>& labels) {
  std::vector<Item> items = draw_bar_number(music, place, column);
  for (std::size_t i = 0; i < column.pieces.size(); ++i) {
    const Piece& piece = column.pieces[i];
    const std::size_t first = items.size();
    append(items, draw_bar_lines(music, place, column, i));
    append(items, PieceDrawer(music, place, piece).run());
    append(items, draw_groups(music, place, piece));
    append(items, draw_words(music, place, piece));
    for (std::size_t item = first; item < items.size(); ++item) items[item].bar = i;
  }
  append(items, draw_slurs(music, place, column));
  append(items, draw_endings(music, place, column));
  for (const Piece& piece : column.pieces) append(items, draw_song(music, place, piece));
  for (const PlacedLabel& label : labels) {
    append(items, draw_label(music.labels[label.label], label, place.frame,
                             place.lanes.labels[label.lane]));
  }
  return items;
}

}  // namespace yubifu::page
