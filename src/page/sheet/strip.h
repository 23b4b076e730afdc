// The score as a strip of bars, each divided into even steps of one beat. Here it is decided what
// stands where in time; how large and on which sheet comes later.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::page {

/// What a cell shows.
enum class CellKind { number, held, rest, free_hold };

/// The stroke of a held beat: diagonal for one, level and upright in turn for more.
enum class Stroke { diagonal, level, upright };

/// One sign and its time, in steps from the start of the bar; a step is one word of the score,
/// whatever that lasts. Neighbouring cells of one free hold share one stroke.
struct Cell {
  CellKind kind = CellKind::number;
  double begin = 0;
  double length = 1;
  std::optional<std::size_t> note = {};  ///< number, held, free_hold
  std::optional<std::size_t> rest = {};  ///< a rest with marks
  Stroke stroke = Stroke::diagonal;
  bool last_of_note = false;  ///< nothing of the note (or rest) follows
  std::string words = {};     ///< as the fingering text has it, with the brackets of groups
};

/// A bar at the side over the cells [first, last]: rank 1 for halves of a beat, 2 for quarters …
struct Beam {
  std::size_t first = 0;
  std::size_t last = 0;
  int rank = 1;
};

/// Marks an uneven division (3 for a triplet) of [begin, end).
struct Bracket {
  double begin = 0;
  double end = 0;
  int number = 3;
  int rank = 0;  ///< brackets inside it, one in another
};

/// One bar in steps of a beat.
struct Bar {
  std::size_t measure = 0;
  double length = 0;  ///< in steps
  std::vector<Cell> cells;
  std::vector<Beam> beams;
  std::vector<Bracket> brackets;
  /// Where a column may break inside: between words, ascending, without start and end.
  std::vector<double> seams;
  /// Where cells start, in quarter notes, and the step there; the last entry is the end of the bar.
  std::vector<std::pair<model::Rational, double>> places;

  /// The step at a place where a cell starts or the bar ends.
  double step_at(model::Rational place) const;
};

/// All bars of a score.
struct Strip {
  std::vector<Bar> bars;  ///< one a measure
  /// For each note, whether it has a fermata without a stroke of its own, which needs the sign.
  std::vector<bool> fermata_signs;
  std::vector<std::size_t> tone_numbers;  ///< of the notes, as model::tone_numbers gives them
};

/// Reports `page-bar-too-fine` for a bar that cannot be divided.
base::Outcome<Strip> make_strip(const model::Score& score);

}  // namespace yubifu::page
