#include <algorithm>

#include "musicxml/bar_layout.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;

class BeamFinder {
 public:
  BeamFinder(const BarFrame& frame, const model::BarContent& content, BarLayout& layout)
      : frame_(frame), content_(content), layout_(layout) {}

  void run() {
    std::size_t first = 0;
    while (first < layout_.pieces.size()) {
      std::size_t last = first;
      while (last + 1 < layout_.pieces.size() && beams_on(last)) ++last;
      if (last > first) beam_group(first, last);
      first = last + 1;
    }
  }

 private:
  int flags(std::size_t piece) const {
    const Piece& at = layout_.pieces[piece];
    const bool is_note = content_.spans[at.span].note.has_value();
    return is_note && at.value ? flag_count(*at.value) : 0;
  }

  Rational group_of(const Piece& piece) const {
    return frame_.grid.beam_group(piece.begin + frame_.offset);
  }

  // Whether a piece is beamed to the next one.
  bool beams_on(std::size_t piece) const {
    const Piece& here = layout_.pieces[piece];
    const Piece& next = layout_.pieces[piece + 1];
    return flags(piece) > 0 && flags(piece + 1) > 0 && here.tuplet == next.tuplet &&
           group_of(here) == group_of(next);
  }

  void beam_group(std::size_t first, std::size_t last) {
    for (std::size_t i = first; i <= last; ++i) {
      Piece& piece = layout_.pieces[i];
      piece.beam_count = std::min(static_cast<std::size_t>(flags(i)), kMostBeams);
      for (std::size_t level = 0; level < piece.beam_count; ++level) {
        piece.beams[level] = beam(first, last, i, static_cast<int>(level) + 1);
      }
    }
    const auto& tuplet = layout_.pieces[first].tuplet;
    if (!tuplet) return;
    Tuplet& at = layout_.tuplets[*tuplet];
    at.beamed = at.first_piece == first && at.last_piece == last;
  }

  Beam beam(std::size_t first, std::size_t last, std::size_t piece, int level) const {
    const bool before = piece > first && flags(piece - 1) >= level;
    const bool after = piece < last && flags(piece + 1) >= level;
    if (before && after) return Beam::cont;
    if (before) return Beam::end;
    if (after) return Beam::begin;
    if (piece == first) return Beam::forward_hook;
    if (piece == last) return Beam::backward_hook;
    return ends_stronger(layout_.pieces[piece]) ? Beam::backward_hook : Beam::forward_hook;
  }

  // A short note that fills up to a stronger place belongs to the note before it.
  bool ends_stronger(const Piece& piece) const {
    const MetricGrid grid = grid_of(piece);
    return grid.level(piece.place_end) < grid.level(piece.place);
  }

  MetricGrid grid_of(const Piece& piece) const {
    if (!piece.tuplet) return frame_.grid;
    const Tuplet& tuplet = layout_.tuplets[*piece.tuplet];
    return MetricGrid::of_tuplet(tuplet.actual, tuplet.unit);
  }

  const BarFrame& frame_;
  const model::BarContent& content_;
  BarLayout& layout_;
};

}  // namespace

void add_beams(const BarFrame& frame, const model::BarContent& content, BarLayout& layout) {
  BeamFinder(frame, content, layout).run();
}

}  // namespace yubifu::musicxml
