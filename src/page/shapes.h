// The shapes that a printer can print. All measures in millimetres, y grows downwards.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "model/fingering.h"
#include "page/glyphs.h"

namespace yubifu::page {

/// Where something is on its sheet.
struct Point {
  double x = 0;
  double y = 0;
};

/// A rectangle with upright sides.
struct Box {
  double left = 0;
  double top = 0;
  double right = 0;
  double bottom = 0;

  double width() const { return right - left; }
  double height() const { return bottom - top; }
  Point center() const { return {(left + right) / 2, (top + bottom) / 2}; }
};

/// The box that reaches so far from a point to either side.
Box box_around(Point center, double half_width, double half_height);

/// True when the insides of two boxes meet; touching edges do not count.
bool overlap(const Box& a, const Box& b);

/// The smallest box around both.
Box joined(const Box& a, const Box& b);

/// A shape from the table of glyphs, drawn to fill `box`.
struct GlyphShape {
  GlyphId glyph;
  Box box;
};

/// A straight line.
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

/// A filled circle.
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

/// Which end of a text is at its point.
enum class TextAnchor { start, middle, end };
/// Regular or bold.
enum class TextWeight { regular, bold };

/// Which way a text runs: to the right, or turned so that it runs down.
enum class TextTurn { none, quarter };

/// A text on one line, brought to `length`, so that another font moves nothing.
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

/// Texts that lie unseen over drawn signs, so that these can be selected, copied and searched.
struct UnseenText {
  struct Run {
    std::string text;
    Box box;                          ///< of the drawn sign
    std::optional<std::size_t> note;  ///< the number of its tone
  };
  std::vector<Run> runs;
};

/// Any of them.
using Shape = std::variant<GlyphShape, LineShape, CurveShape, DotShape, FrameShape, HoleShape,
                           TextShape, StackShape, UnseenText>;

}  // namespace yubifu::page
