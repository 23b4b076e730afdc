// Measures and the directions in them. All times are in quarter notes.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/source_text.h"
#include "model/flute_name.h"
#include "model/meter.h"
#include "model/pitch.h"
#include "model/rational.h"

namespace yubifu::model {

// Each kind of direction with a value has the word that all formats know it by.

/// A tempo from its place on.
struct TempoChange {
  static constexpr std::string_view kWord = "tempo";
  Tempo tempo;
  friend bool operator==(const TempoChange&, const TempoChange&) = default;
};

/// A change of what one word lasts inside a measure, from the end of the word in which it stands
/// on; at the start of a measure it is Measure::beat.
struct BeatChange {
  static constexpr std::string_view kWord = "beat";
  Rational beat;
  friend bool operator==(const BeatChange&, const BeatChange&) = default;
};

/// A sounding key from its place on.
struct KeyChange {
  static constexpr std::string_view kWord = "key";
  Key key;
  friend bool operator==(const KeyChange&, const KeyChange&) = default;
};

/// Only at the start of a measure.
struct FluteChange {
  static constexpr std::string_view kWord = "flute";
  FluteName flute;
  friend bool operator==(const FluteChange&, const FluteChange&) = default;
};

/// A section begins (at the start of a measure).
struct SectionStart {
  static constexpr std::string_view kWord = "section";
  std::string name;
  friend bool operator==(const SectionStart&, const SectionStart&) = default;
};

/// Words for the player that mean nothing to this program.
struct TextDirection {
  static constexpr std::string_view kWord = "text";
  std::string text;
  friend bool operator==(const TextDirection&, const TextDirection&) = default;
};

/// "mf", "pp" …
struct Dynamic {
  static constexpr std::string_view kWord = "dyn";
  std::string level;
  friend bool operator==(const Dynamic&, const Dynamic&) = default;
};

/// Directions that are a word without a value. Segno and coda stand at the start of a measure,
/// fine to until_cue at its end (onset = the measure's length), the others anywhere.
enum class Cue {
  segno,
  coda,
  fine,
  da_capo,
  dal_segno,
  to_coda,
  until_cue,
  rit,
  accel,
  a_tempo,
  caesura,
};

using DirectionValue = std::variant<TempoChange, BeatChange, KeyChange, FluteChange, SectionStart,
                                    TextDirection, Dynamic, Cue>;

/// What is said at a place of the score.
struct Direction {
  std::size_t measure = 0;
  Rational onset;  ///< 0 to the measure's length, both included
  DirectionValue value;
  base::SourceRange source;
};

/// The line at the end of a measure.
enum class BarStyle { regular, section, final };

/// A repeat is played at most so often, and the highest number of an ending.
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
