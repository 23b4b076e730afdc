// Positioned items: what the layout makes and a printer prints.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "model/note.h"
#include "page/shapes.h"

namespace yubifu::page {

/// What an item says to the player.
enum class Role {
  words,  ///< the fingering text under the drawn signs; no ink
  number,
  small_sign,
  bend,
  stroke,
  rest,
  beam,
  tuplet,
  bar_line,
  grace,
  mark,
  holes,
  slur,
  song,
  shoga,
  label,
  ending,
  bar_number,
  heading,
  footer,
  chart,
};

/// A shape on its sheet, and what it belongs to.
struct Item {
  Role role = Role::number;
  Shape shape;
  Box box;                               ///< all of its ink, as far as it can be known
  std::optional<std::size_t> note = {};  ///< the number of the tone, as model::tone_numbers counts
  std::optional<std::size_t> bar = {};   ///< index into Sheet::bars
};

/// The thinnest line that a printer shows.
inline constexpr double kThinnestLine = 0.15;

/// Shapes with their boxes: a glyph, a dot, a hole around a point, a line, a frame. A line is at
/// least `kThinnestLine` wide where it is long enough to look like a line.
Item glyph_item(Role role, GlyphId id, Point center, double height);
Item line_item(Role role, Point from, Point to, double width);
Item dot_item(Role role, Point center, double radius);
Item hole_item(Role role, model::Hole hole, Point center, double radius);
Item frame_item(Role role, const Box& box, double width);

/// Moves the items to the end of a list.
void append(std::vector<Item>& to, std::vector<Item> items);

/// A sign, and how far it reaches without and with its half hole.
struct DrawnSign {
  std::vector<Item> items;
  double right = 0;
  double right_of_half_hole = 0;
};

/// The sign of a tone around a point: its number, in letters where only a flute file defines it;
/// the pitch of a gap in a frame. Sizes follow its height. メ or カ stands at the upper right.
DrawnSign draw_sign(Role role, const model::Tone& tone, Point center, double height,
                    double half_hole_height);

/// The edge of a sheet at which reading begins.
enum class SheetStart { left, right };

/// One side of paper.
struct Sheet {
  double width = 0;
  double height = 0;
  SheetStart start = SheetStart::left;
  std::string title = {};
  std::string description = {};
  std::vector<std::string> notes = {};  ///< what its foot says, without line breaks
  /// Of each bar or part of one in a column, in reading order, what a screen reader says.
  std::vector<std::string> bars = {};
  std::vector<Item> items = {};  ///< the items of one bar stand together
};

/// The measures of a sheet of paper.
struct SheetSize {
  double width = 0;
  double height = 0;
};

/// What the margins leave of a sheet.
Box area_of(const SheetSize& size);

}  // namespace yubifu::page
