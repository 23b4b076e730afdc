// The steps from a tree to a score, in their order: the header; time, notes, rests, directions and
// form; the song text.
#pragma once

#include <cstddef>
#include <optional>
#include <set>
#include <vector>

#include "base/source_text.h"
#include "model/rational.h"
#include "model/score.h"
#include "notation/read/parser.h"
#include "notation/read/reader.h"
#include "notation/read/reports.h"
#include "notation/spelling.h"

namespace yubifu::notation {

/// What the header lines say.
struct HeaderReading {
  model::Header header;
  bool time_known = true;     ///< false after a meter or beat that could not be read
  std::set<HeaderKey> given;  ///< the keys that stand in the text
};

/// Reads the lines; comments are not among them. A bad value is reported and left out.
HeaderReading read_header(const base::SourceText& source, const std::vector<HeaderLine>& lines,
                          Reports& reports);

/// A word of the bar that lasts a fraction: `(…):n/d`.
struct FractionWord {
  base::SourceRange range;
  bool first = false;  ///< the first word of the bar
  bool last = false;   ///< the last one
};

/// What the text said of a bar and the score does not hold.
struct BarFacts {
  bool broken = false;        ///< a fault in it has been reported: its length means nothing
  bool time_known = true;     ///< meter and beat were read
  bool may_be_short = false;  ///< {meter} or {ending} is written at its start
  bool changes_beat = false;  ///< {beat} is written inside it
  bool ends_ending = false;   ///< {ending end} is written at its end
  std::optional<base::SourceRange> irregular;
  std::vector<FractionWord> fractions;
  model::Rational held_in;  ///< how long its first words hold the note before
};

/// Where the notes of one bar in one line of music begin.
struct Segment {
  std::size_t offset = 0;      ///< of its first word in the text, in bytes
  std::size_t first_note = 0;  ///< index into the score's notes
};

struct BuiltScore {
  model::Score score;           ///< without song text, measure numbers and irregular flags
  std::vector<BarFacts> facts;  ///< one a measure
  std::vector<Segment> segments;
  std::vector<base::SourceRange> broken;  ///< words that could not be read, in order
};

/// Reads every word of the tree. A bar that cannot be read whole still becomes a measure.
BuiltScore build_score(const base::SourceText& source, const Tree& tree,
                       const HeaderReading& header, const SignsOf& signs_of, Reports& reports);

/// Gives the notes of `built` their syllables and the score its verses. A line over music that
/// could not be read whole is left out.
void add_song_text(const base::SourceText& source, const Tree& tree, BuiltScore& built,
                   Reports& reports);

}  // namespace yubifu::notation
