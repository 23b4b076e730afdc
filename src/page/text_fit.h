// Texts of the page: how much room they take, how they stand in a column, where lines break.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "page/drawing.h"

namespace yubifu::page {

/// Where the ink of a line lies over and under its baseline, in units of its size.
inline constexpr double kAscent = 0.88;
inline constexpr double kDescent = 0.24;

/// Estimated width of a text on one line, in units of its size: wide characters take 1, Latin
/// ones what they take in a common sans-serif. Printers stretch or squeeze to it.
double text_width(std::string_view text);

/// True for characters that stand upright in a column: kana, kanji and other wide ones.
bool stands_upright(char32_t value);

/// A stretch of text in a column: upright characters one under another, or a run turned sideways.
struct ColumnRun {
  bool upright = false;
  std::vector<std::string> characters;  ///< upright: each with its combining marks
  std::string text;                     ///< sideways
};

/// A text as runs from the top down, neighbours of one kind together.
std::vector<ColumnRun> column_runs(std::string_view text);

/// The length of a text down a column, in units of its size.
double column_length(std::string_view text);

/// The parts of a text, cut at spaces or between wide characters, each at most `most` wide (in
/// units of its size). A word wider than that is cut anywhere.
std::vector<std::string> wrapped(std::string_view text, double most);

/// The text with its first letter in upper case, if that is an ASCII letter.
std::string sentence_case(std::string text);

/// One item for a text on one line. `at` is on the baseline; `width` 0 takes the estimated one.
Item line_of_text(Role role, std::string text, Point at, double size,
                  TextAnchor anchor = TextAnchor::start, double width = 0);

/// Items for a text down a column. `top` is the middle of the column's upper edge; a text longer
/// than `most` is set smaller.
std::vector<Item> column_of_text(Role role, std::string_view text, Point top, double size,
                                 double most);

}  // namespace yubifu::page
