// The lanes beside the numbers of a column: what a column uses gets one, in a fixed order.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "model/score.h"
#include "page/page.h"
#include "page/sheet/columns.h"
#include "page/sheet/strip.h"

namespace yubifu::page {

/// Distances from the axis of the numbers, in millimetres. A lane that is not used has no length.
struct Lanes {
  Stretch numbers;
  Stretch bends;  ///< of its own only in rows; in columns bends stand beside the numbers
  Stretch beams;
  Stretch brackets;
  Stretch slurs;
  Stretch graces;
  Stretch holes;
  Stretch marks;
  Stretch endings;
  std::vector<Stretch> labels;  ///< from the numbers outwards
  std::vector<Stretch> verses;  ///< for each of Score::verses; without length when hidden
  Stretch all;                  ///< from the first to the last
};

/// The lanes of a column. In columns: to the right of the numbers small signs, beams, brackets,
/// sung syllables, endings, labels; to the left slurs, grace notes, hole patterns, marks, song
/// text. In rows: below the numbers beams and song text; all else above.
Lanes make_lanes(const model::Score& score, const Strip& strip, const Column& column,
                 const PageOptions& options, double unit, std::size_t label_lanes);

/// The pattern that stands beside a note: the one asked for, or where all are shown the one of the
/// flute's table.
std::optional<model::HolePattern> shown_holes(const model::Note& note, HolesShown shown);

/// The index of a syllable's verse in Score::verses.
std::size_t verse_index(const model::Score& score, const model::Syllable& syllable);

}  // namespace yubifu::page
