// Song text and sung syllables beside their notes.
#include <algorithm>
#include <utility>

#include "page/column_drawing.h"
#include "page/style.h"
#include "page/syllables.h"
#include "page/text_fit.h"

namespace yubifu::page {
namespace {

constexpr double kLinePen = 0.03;
constexpr double kFill = 0.94;  // of the room along the column

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
        items_[item].note = bar_.cells[i].note;
      }
    }
    return std::move(items_);
  }

 private:
  void add(std::size_t cell, const model::Syllable& syllable) {
    lane_ = place_.lanes.verses[verse_index(music_.score, syllable)];
    if (lane_.length() <= 0) return;
    role_ = is_shoga(syllable.verse) ? Role::shoga : Role::song;
    size_ = (is_shoga(syllable.verse) ? style::kShogaText : style::kSongText) * place_.spacing.unit;
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
    const bool upright =
        std::any_of(runs.begin(), runs.end(), [](const ColumnRun& run) { return run.upright; });
    if (upright) {
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

  // Latin syllables stand upright beside the number, or turned where that shows them larger.
  void add_latin(Stretch room, const std::string& text) {
    constexpr double kTurnedGain = 1.3;
    constexpr double kMargin = 0.96;
    constexpr double kBaseline = 0.34;  // under the middle
    const double width = text_width(text);
    const double height = kAscent + kDescent;
    const double across =
        std::min({size_, kMargin * lane_.length() / width, room.length() / height});
    const double along = std::min(size_, kFill * room.length() / width);
    if (along > across * kTurnedGain) {
      add_column(room, text, width);
      return;
    }
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

std::vector<Item> draw_song(const Music& music, const Place& place, const Piece& piece) {
  return SongDrawer(music, place, piece).run();
}

}  // namespace yubifu::page
