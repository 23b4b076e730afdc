// Measures. All times are in quarter notes.
#pragma once

#include <string>
#include <vector>

#include "base/source_text.h"
#include "model/meter.h"
#include "model/rational.h"

namespace yubifu::model {

/// The line at the end of a measure.
enum class BarStyle { regular, section, final };

/// How often a repeat is played at most, and the highest number of an ending.
inline constexpr int kMostTimes = 99;
inline constexpr int kMostEndings = 99;

/// Where the line was broken before a measure: by the systems of a staff, as wide as its paper, or
/// by the author.
enum class LineBreak { none, system, line, blank_line };

/// A comment after a measure: on the same line, or on a line of its own.
struct Comment {
  std::string text;  ///< without the # and the space after it
  bool own_line = true;
  bool blank_before = false;  ///< a blank line parts it from what stands above
  friend bool operator==(const Comment&, const Comment&) = default;
};

/// A bar, or a part of one that a repeat sign cuts off.
struct Measure {
  std::string number;  ///< as printed; a short first measure is 0
  Rational length;     ///< what the notes and rests really fill
  Meter meter;
  Rational beat = 1;       ///< what one word lasts at its start
  bool irregular = false;  ///< shorter or longer than its meter without one of the usual reasons
  bool repeat_start = false;
  bool repeat_end = false;
  int times = 2;  ///< how often a repeat that ends here is played
  BarStyle right = BarStyle::regular;
  std::vector<int> ending;  ///< numbers of the ending this measure belongs to; empty outside
  LineBreak break_before = LineBreak::none;
  std::vector<Comment> comments;
  base::SourceRange source;
};

}  // namespace yubifu::model
