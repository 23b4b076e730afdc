// The signs of one note: number, additions, strokes, marks. Positioned in the axes of a column.
#pragma once

#include <vector>

#include "model/score.h"
#include "page/columns.h"
#include "page/drawing.h"
#include "page/frame.h"
#include "page/lanes.h"
#include "page/strip.h"

namespace yubifu::page {

/// What holds for all signs of a column.
struct Place {
  Frame frame;
  const Spacing& spacing;
  const Lanes& lanes;
  HeldBeats held = HeldBeats::strokes;
};

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

/// The sign and half hole of a fingering around a point, on their own.
std::vector<Item> draw_sign(Role role, const model::Fingering& fingering, Point center,
                            double height);

/// The name of a note around a point: B♭4. At most `most` wide.
std::vector<Item> draw_note_name(Role role, const model::Spelling& spelling, Point center,
                                 double size, double most);

/// The stroke or dash of a held beat.
std::vector<Item> draw_held(const Place& place, const Spot& spot, Stroke stroke);

/// The long stroke of a free hold, over the whole cell.
std::vector<Item> draw_free_hold(const Place& place, const Spot& spot);

/// The sign of a rest of one beat.
std::vector<Item> draw_rest(const Place& place, const Spot& spot);

/// Whether grace notes lead to a note or follow it.
enum class GraceSide { before, after };

/// Small numbers in a row from `along.from`, or up to `along.to`.
std::vector<Item> draw_graces(const Place& place, Stretch along,
                              const std::vector<model::Tone>& tones, GraceSide side);

/// A pattern of holes, mouth end first, within a stretch of a lane.
std::vector<Item> draw_holes(const Place& place, Stretch along, Stretch lane,
                             const model::HolePattern& pattern);

/// Signs in a lane: `first` from the start of the stretch, `last` up to its end.
std::vector<Item> draw_marks(const Place& place, Stretch along, Stretch lane,
                             const std::vector<GlyphId>& first, const std::vector<GlyphId>& last);

/// The sign of a mark.
GlyphId glyph_of(model::Mark mark);

}  // namespace yubifu::page
