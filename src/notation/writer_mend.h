// The nearest score that fingering text can say.
#pragma once

#include <optional>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::notation {

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
