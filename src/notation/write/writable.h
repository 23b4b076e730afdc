// A score made ready for the writer: what keeps it from being written at all, and the nearest score
// that fingering text can say. Findings name measures, as a score has no places in a text.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"
#include "notation/write/writer.h"

namespace yubifu::notation {

/// One error for each kind of fault, with the measures concerned: notes without fingering, signs
/// without a spelling, values that the reader would refuse, what passes its limits. Rhythms and the
/// number of words are left to the writer.
base::Diagnostics check_writable(const model::Score& score, Alphabet alphabet);

/// A score that can be written, and what it took.
struct Mended {
  std::optional<model::Score> score;  ///< nothing where the score needs no mending
  base::Diagnostics diagnostics;      ///< what was changed, one finding a rule
};

/// Texts of several lines become one; header fields without a good key become comments; `zero:
/// tube` goes where 0 is a note; a repeat start without an end before the next one goes; of two
/// tempos, keys, beats or flutes at one place the last stays; a note held over a change of flute
/// is struck anew; `~` without a syllable before it goes.
Mended mend(const model::Score& score);

}  // namespace yubifu::notation
