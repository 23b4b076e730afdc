// One bar as staff notation: the canonical rhythm walked into notes with a type, dots, ties,
// tuplets and beams.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "model/rational.h"
#include "model/rhythm_tree.h"
#include "model/score.h"
#include "musicxml/write/note_value.h"

namespace yubifu::musicxml {

/// `actual` notes in the time of `normal`.
struct Tuplet {
  std::int64_t actual = 1;
  std::int64_t normal = 1;
  model::Rational unit;               ///< the written length of one of them, in quarters
  std::optional<std::size_t> around;  ///< the tuplet that it stands in
  int depth = 1;                      ///< 1 for an outermost one
  std::size_t first_piece = 0;
  std::size_t last_piece = 0;
  bool beamed = false;  ///< one beam spans all of it, so that no bracket is needed
};

enum class Beam { begin, cont, end, forward_hook, backward_hook };

/// MusicXML has beams 1 to 8.
inline constexpr std::size_t kMostBeams = 8;

/// One note or rest as written. Times in quarters from the start of the bar.
struct Piece {
  model::Rational begin;
  model::Rational end;
  std::size_t span = 0;               ///< index into BarContent::spans
  std::optional<NoteValue> value;     ///< none for a rest of the whole measure
  std::optional<std::size_t> tuplet;  ///< the innermost one
  std::array<Beam, kMostBeams> beams{};
  std::size_t beam_count = 0;

  // Places in the grid of the tuplet, or of the bar outside tuplets.
  model::Rational place;
  model::Rational place_end;

  model::Rational duration() const { return end - begin; }
};

struct BarLayout {
  std::vector<Piece> pieces;
  std::vector<Tuplet> tuplets;

  /// Written length by sounding length of the notes in a tuplet, all tuplets around it included.
  Tuplet product(std::size_t tuplet) const;
};

/// The context of a bar that decides how its rhythm is written.
struct BarFrame {
  MetricGrid grid;
  model::Rational offset;                 ///< where in the full bar it begins
  std::vector<model::Rational> barriers;  ///< places over which no note is written in one piece
  bool is_full = true;                    ///< as long as its meter
};

/// Throws DivisionTooFine and TimeOverflow.
BarFrame bar_frame(const model::Score& score, std::size_t measure,
                   const model::BarContent& content);

/// The notes of the words of a bar. Throws TimeOverflow.
BarLayout lay_out_bar(const BarFrame& frame, const model::BarContent& content,
                      const std::vector<model::RhythmWord>& words);

/// Groups and numbers the beams of a laid-out bar.
void add_beams(const BarFrame& frame, const model::BarContent& content, BarLayout& layout);

}  // namespace yubifu::musicxml
