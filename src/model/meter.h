// Meter, beat, tempo and measures. All times are in quarter notes.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "model/rational.h"

namespace yubifu::model {

/// A time signature, or free time, in which bars are phrases and nothing is counted.
struct Meter {
  int beats = 4;  ///< 0 in free time
  int unit = 4;   ///< 1, 2, 4 … 128

  static Meter free_time() { return {0, 4}; }
  bool is_free() const { return beats == 0; }

  /// In quarter notes; zero in free time.
  Rational length() const { return Rational(beats) * Rational(4, unit); }
  friend bool operator==(const Meter&, const Meter&) = default;
};

/// "6/8" or "free".
std::string to_text(const Meter& meter);
/// Beats 1 to 64 over a power of two up to 128, or "free".
std::optional<Meter> parse_meter(std::string_view text);

/// What one word lasts when the score does not say: the unit of the meter, a quarter in free time.
Rational default_beat(const Meter& meter);

/// The beat that a tempo counts when it names none: the dotted quarter in 6/8, 9/8 and 12/8,
/// otherwise the beat in force.
Rational felt_beat(const Meter& meter, Rational beat);

/// True when a bar of the meter holds the beat, a positive number of quarter notes, a whole number
/// of times; in free time any beat will do. Throws TimeOverflow.
bool divides(Rational beat, const Meter& meter);

/// So many units a minute; the unit in quarter notes.
struct Tempo {
  Rational per_minute = 120;
  Rational unit = 1;

  Rational quarters_per_minute() const { return per_minute * unit; }
  friend bool operator==(const Tempo&, const Tempo&) = default;
};

/// Where a score gives none: 120 quarters a minute, as players of MIDI files do (SMF 1.1).
inline constexpr Tempo kDefaultTempo{};

/// "76" when the unit is `usual`, otherwise "1/8=180" with the unit as a part of a whole note.
std::string to_text(const Tempo& tempo, Rational usual);
/// Reads `to_text`'s form. The number is above 0 and at most 1000, the unit from 1/128 to 2/1.
std::optional<Tempo> parse_tempo(std::string_view text, Rational usual);

/// The same, always with its unit and exact also where no decimal is: "1/4=20000000/166667".
std::string exact_text(const Tempo& tempo);
/// Reads it, up to the fastest tempo of a Standard MIDI File; without a unit it counts `usual`.
std::optional<Tempo> parse_exact_tempo(std::string_view text, Rational usual);

/// A note value as a part of a whole note: "1/8" for half a quarter.
std::string beat_text(Rational quarters);
/// Reads "3/8" as quarters; above zero, at most two whole notes, of at most a million parts of one.
std::optional<Rational> parse_beat(std::string_view text);

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
