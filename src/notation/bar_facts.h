// What the text said of a bar and the score does not hold.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/source_text.h"
#include "model/rational.h"

namespace yubifu::notation {

/// A word of the bar that lasts a fraction: `(…):n/d`.
struct FractionWord {
  base::SourceRange range;
  bool first = false;  ///< the first word of the bar
  bool last = false;   ///< the last one
};

struct BarFacts {
  base::SourceRange range;
  bool broken = false;        ///< a fault in it has been reported: its length means nothing
  bool time_known = true;     ///< meter and beat were read
  bool may_be_short = false;  ///< {meter} or {ending} is written at its start
  bool changes_beat = false;  ///< {beat} is written inside it
  bool ends_ending = false;   ///< {ending end} is written at its end
  std::optional<base::SourceRange> irregular;
  std::vector<FractionWord> fractions;
  std::size_t first_note = 0;  ///< indexes into the score's notes and rests
  std::size_t first_rest = 0;
  model::Rational held_in;  ///< how long its first words hold the note before
};

}  // namespace yubifu::notation
