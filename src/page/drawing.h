// Positioned items: what the layout makes and a printer prints. All measures in millimetres, y
// grows downwards.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "model/fingering.h"
#include "page/glyphs.h"

namespace yubifu::page {

struct Point {
  double x = 0;
  double y = 0;
};

struct Box {
  double left = 0;
  double top = 0;
  double right = 0;
  double bottom = 0;

  double width() const { return right - left; }
  double height() const { return bottom - top; }
  Point center() const { return {(left + right) / 2, (top + bottom) / 2}; }
};

/// True when the insides of two boxes meet; touching edges do not count.
bool overlap(const Box& a, const Box& b);

/// The smallest box around both.
Box joined(const Box& a, const Box& b);

/// A shape from the table of glyphs, drawn to fill `box`.
struct GlyphShape {
  GlyphId glyph;
  Box box;
};

struct LineShape {
  Point from;
  Point to;
  double width = 0;
};

/// A thin curve from one point to another; the two others pull it aside (a cubic Bézier curve).
struct CurveShape {
  Point from;
  Point pull_from;
  Point pull_to;
  Point to;
  double width = 0;
};

struct DotShape {
  Point center;
  double radius = 0;
};

/// A rectangle's outline with round corners.
struct FrameShape {
  Box box;
  double width = 0;
};

/// A finger hole of a pattern.
struct HoleShape {
  model::Hole hole = model::Hole::open;
  Point center;
  double radius = 0;
};

enum class TextAnchor { start, middle, end };
enum class TextWeight { regular, bold };

/// Which way a text runs: to the right, or turned so that it runs down.
enum class TextTurn { none, quarter };

/// A text on one line. It is stretched or squeezed to `length`, so that another font than the
/// expected one moves nothing.
struct TextShape {
  std::string text;
  Point at;  ///< on the baseline, at the anchor
  double size = 0;
  double length = 0;
  TextAnchor anchor = TextAnchor::start;
  TextTurn turn = TextTurn::none;
  TextWeight weight = TextWeight::regular;
};

/// Upright characters set one under another.
struct StackShape {
  struct Character {
    std::string text;
    Point center;
    bool turned = false;  ///< long vowel marks and brackets lie along the column
  };
  std::vector<Character> characters;
  double size = 0;
  TextWeight weight = TextWeight::regular;
};

using Shape = std::variant<GlyphShape, LineShape, CurveShape, DotShape, FrameShape, HoleShape,
                           TextShape, StackShape>;

/// What an item says to the player.
enum class Role {
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

struct Item {
  Role role = Role::number;
  Shape shape;
  Box box;                             ///< all of its ink, as far as it can be known
  std::optional<std::size_t> note;     ///< index into Score::notes
  std::optional<std::size_t> measure;  ///< index into Score::measures
};

/// A glyph around a point, a line, a dot, with their boxes.
Item glyph_item(Role role, GlyphId id, Point center, double height);
Item line_item(Role role, Point from, Point to, double width);
Item dot_item(Role role, Point center, double radius);

/// Moves the items to the end of a list.
void append(std::vector<Item>& to, std::vector<Item> items);

/// The thinnest line that a printer shows.
inline constexpr double kThinnestLine = 0.15;

/// What a screen reader says for the signs of one bar.
struct BarName {
  std::size_t measure = 0;
  std::string text;
};

struct Sheet {
  double width = 0;
  double height = 0;
  std::string title;
  std::string description;
  std::vector<BarName> bars;  ///< in reading order
  std::vector<Item> items;    ///< the items of one bar stand together
};

}  // namespace yubifu::page
