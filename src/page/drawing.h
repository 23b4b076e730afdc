// Positioned items: what the layout makes and a printer prints. All measures in millimetres, y
// grows downwards.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "page/geometry.h"
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
  Box box;                          ///< all of its ink, as far as it can be known
  std::optional<std::size_t> note;  ///< index into Score::notes
  std::optional<std::size_t> bar;   ///< index into Sheet::bars
};

/// A glyph around a point, a line, a dot, with their boxes. A line is at least `kThinnestLine` wide
/// where it is long enough to look like a line.
Item glyph_item(Role role, GlyphId id, Point center, double height);
Item line_item(Role role, Point from, Point to, double width);
Item dot_item(Role role, Point center, double radius);

/// Moves the items to the end of a list.
void append(std::vector<Item>& to, std::vector<Item> items);

/// The thinnest line that a printer shows.
inline constexpr double kThinnestLine = 0.15;

/// A bar on a sheet, or the part of it that stands in one column.
struct BarOnSheet {
  std::size_t measure = 0;  ///< index into Score::measures
  std::string name;         ///< what a screen reader says for its signs
};

/// The edge of a sheet at which reading begins.
enum class SheetStart { left, right };

/// One side of paper.
struct Sheet {
  double width = 0;
  double height = 0;
  SheetStart start = SheetStart::left;
  std::string title;
  std::string description;
  std::vector<std::string> notes;  ///< what its foot says, without line breaks
  std::vector<BarOnSheet> bars;    ///< in reading order
  std::vector<Item> items;         ///< the items of one bar stand together
};

}  // namespace yubifu::page
