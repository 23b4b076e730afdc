// The fingering text over the drawn signs.
#include <algorithm>
#include <string>
#include <utility>

#include "page/column_drawing.h"
#include "page/style.h"
#include "page/words.h"

namespace yubifu::page {

std::vector<Item> draw_words(const Music& music, const Place& place, const Piece& piece) {
  const Bar& bar = music.strip.bars[piece.bar];
  const model::Measure& measure = music.score.measures[bar.measure];
  UnseenText text;
  Box all;
  const auto add = [&](const std::string& words, double middle, double size) {
    if (words.empty()) return;
    const Point center = place.frame.at(middle, 0);
    const double half = size / 2;
    const Box box{center.x - half, center.y - half, center.x + half, center.y + half};
    all = text.runs.empty() ? box : joined(all, box);
    text.runs.push_back({words, box});
  };
  const double half_gap = place.spacing.gap / 2;
  const double sign = std::min(place.spacing.gap, place.spacing.unit * style::kHalfNumber);
  if (piece.first) add(opening_sign(measure), piece.begin - half_gap, sign);
  const CellRange range = cells_of(bar, piece);
  for (std::size_t i = range.begin; i < range.end; ++i) {
    const Spot spot = spot_of(place, piece, bar.cells[i]);
    add(bar.cells[i].words, spot.middle, spot.height);
  }
  if (piece.last) add(closing_sign(measure), piece.end() + half_gap, sign);
  if (text.runs.empty()) return {};
  return {{Role::words, std::move(text), all, {}, {}}};
}

}  // namespace yubifu::page
