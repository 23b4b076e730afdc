// Texts of the page: the room they take, how they stand in a column, where lines break; the foot.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "model/score.h"
#include "page/drawing.h"

namespace yubifu::page {

/// Where the ink of a line lies over and under its baseline, in units of its size.
inline constexpr double kAscent = 0.88;
inline constexpr double kDescent = 0.24;

/// Between texts on one line. It does not break: XML drops other spaces at the ends of a text.
inline const std::string kSpace = "   ";

/// Estimated width of a text on one line, in units of its size: wide characters take 1, Latin
/// ones what they take in a common sans-serif. Printers stretch or squeeze to it.
double text_width(std::string_view text);

/// A stretch of text in a column: upright characters one under another, or a run turned sideways.
struct ColumnRun {
  bool upright = false;
  std::vector<std::string> characters = {};  ///< upright: each with its combining marks
  std::string text = {};                     ///< sideways
};

/// A text as runs from the top down, neighbours of one kind together.
std::vector<ColumnRun> column_runs(std::string_view text);

/// The length of a text down a column, in units of its size.
double column_length(std::string_view text);

/// The parts of a text, cut at spaces or between wide characters, each at most `most` wide (in
/// units of its size). A word wider than that is cut anywhere.
std::vector<std::string> wrapped(std::string_view text, double most);

/// One item for a text on one line. `at` is on the baseline; `width` 0 takes the estimated one.
Item line_of_text(Role role, std::string text, Point at, double size,
                  TextAnchor anchor = TextAnchor::start, double width = 0);

/// The same with `middle` at half the height of the line.
Item line_around(Role role, std::string text, Point middle, double size, TextAnchor anchor,
                 double width = 0);

/// A text down a column from the middle of its upper edge; set smaller if longer than `most`.
std::vector<Item> column_of_text(Role role, std::string_view text, Point top, double size,
                                 double most);

/// The item in bold, if it is text.
Item bold(Item item);

/// The name of a note around a point: B♭4. At most `most` wide.
std::vector<Item> note_name(Role role, const model::Spelling& spelling, Point center, double size,
                            double most);

/// A syllable with its hyphen; words of wide characters have none.
std::string syllable_text(const model::Syllable& syllable);

/// 六本調子 for size 6; the title of another flute.
std::string flute_label(const model::FluteName& name, const std::string& title);

/// The same where a score names the flute: another one is called by its path.
std::string flute_label(const model::FluteName& name);

/// The caution for the ears as a sentence.
std::string hearing_caution();

/// The room that a foot of some texts and the page number takes.
double footer_height(const std::vector<std::string>& texts, double width);

/// What numbers a loose page, counted from 1: "3 / 4", behind the title that it belongs to.
std::string page_line(std::size_t page, std::size_t pages, const std::string& title = {});

/// The foot at the lower edge of an area: lines of texts, and in the middle the page's number.
std::vector<Item> draw_footer(const std::vector<std::string>& texts, const Box& area,
                              std::string page);

}  // namespace yubifu::page
