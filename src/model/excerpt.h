// Some bars of a score as a score of their own.
#pragma once

#include "model/score.h"

namespace yubifu::model {

/// Bars of a score, and which of its flutes is the first of theirs.
struct Excerpt {
  Score score;
  std::size_t first_flute = 0;  ///< index into Score::flutes of the whole
};

/// The measures from the first one whose printed number is `first` to the last one, after it, whose
/// number is `last`; meter, beat, tempo, key and flute in force where they begin stand in the
/// header. Measures keep their numbers. A note that is held into them from before begins anew at
/// their start, without grace notes before it and without its syllables; what is held beyond them
/// is cut. Nothing where there are no such measures.
std::optional<Excerpt> excerpt(const Score& score, int first, int last);

}  // namespace yubifu::model
