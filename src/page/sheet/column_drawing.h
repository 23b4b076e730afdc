// Everything of one column, in its own axes: signs (signs.cpp), lines (column_lines.cpp), song
// text.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "model/score.h"
#include "page/drawing.h"
#include "page/page.h"
#include "page/sheet/columns.h"
#include "page/sheet/labels.h"
#include "page/sheet/lanes.h"
#include "page/sheet/strip.h"

namespace yubifu::page {

/// What holds for the whole score; all of it must outlive this.
struct Music {
  const model::Score& score;
  const Strip& strip;
  const std::vector<Label>& labels;
};

/// What holds for all signs of a column.
struct Place {
  Frame frame;
  const Spacing& spacing;
  const Lanes& lanes;
  HeldBeats held = HeldBeats::strokes;
  HolesShown holes = HolesShown::asked;
};

/// All items of a column. Signs and the words over them carry the index of their piece as their
/// bar, texts do not.
std::vector<Item> draw_column(const Music& music, const Place& place, const Column& column,
                              const std::vector<PlacedLabel>& labels);

/// The number of a verse before its lane.
std::vector<Item> draw_verse_number(const Place& place, const std::string& verse, Stretch lane);

/// Where a sign stands: its cell, the middle of the sign along the column, and its height.
struct Spot {
  Stretch cell;
  double middle = 0;
  double height = 0;
  double ratio = 1;  ///< of full size

  /// The stretch that the sign itself takes.
  Stretch sign() const { return {middle - height / 2, middle + height / 2}; }
};

/// Where the sign of a cell stands, as large as its cell lets it be.
Spot spot_of(const Place& place, const Piece& piece, const Cell& cell);

/// The number of a tone with its small signs and bend; a gap as its pitch in a frame.
std::vector<Item> draw_tone(const Place& place, const Spot& spot, const model::Tone& tone);

/// The stroke or dash of a held beat.
std::vector<Item> draw_held(const Place& place, const Spot& spot, Stroke stroke);

/// The long stroke of a free hold, over the whole cell.
std::vector<Item> draw_free_hold(const Place& place, const Spot& spot);

/// The sign of a rest of one beat.
std::vector<Item> draw_rest(const Place& place, const Spot& spot);

/// Whether grace notes lead to a note or follow it.
enum class GraceSide { before, after };

/// Small numbers in a row from `along.from`, or up to `along.to`; `first` is the number of the
/// first of the tones.
std::vector<Item> draw_graces(const Place& place, Stretch along,
                              const std::vector<model::Tone>& tones, GraceSide side,
                              std::size_t first);

/// A pattern of holes across the lane, up to the edge at the numbers: in columns from left to
/// right, in rows downwards, mouth end first.
std::vector<Item> draw_holes(const Place& place, const Spot& spot, Stretch lane,
                             const model::HolePattern& pattern);

/// Signs in a lane: `first` from the start of the stretch, `last` up to its end.
std::vector<Item> draw_marks(const Place& place, Stretch along, Stretch lane,
                             const std::vector<GlyphId>& first, const std::vector<GlyphId>& last);

/// Beams and brackets of a piece.
std::vector<Item> draw_groups(const Music& music, const Place& place, const Piece& piece);

/// The line before a piece that begins a column, or between it and the piece before it.
std::vector<Item> draw_bar_lines(const Music& music, const Place& place, const Column& column,
                                 std::size_t piece);

/// Slurs and slides of a column, those that come from the column before or go on included.
std::vector<Item> draw_slurs(const Music& music, const Place& place, const Column& column);

/// The lines of the endings in a column, each with its numbers and hooks where it begins and stops.
std::vector<Item> draw_endings(const Music& music, const Place& place, const Column& column);

}  // namespace yubifu::page
