// Scores to fingering text, in the canonical layout.
#pragma once

#include <string>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::notation {

using model::Alphabet;

/// The text of a score without broken invariants. Read again it is the same score, and writing
/// that gives the same text. Header, quoted and song text are the same in both alphabets. Lines
/// break where the score says, else after four bars and at double bars and repeats. Nothing comes
/// out beside an error: for notes without fingering, for signs and rhythms that cannot be written,
/// for texts beyond the reader's limits.
base::Outcome<std::string> write_notation(const model::Score& score, Alphabet alphabet);

}  // namespace yubifu::notation
