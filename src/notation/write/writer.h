// Scores to fingering text, in the canonical layout.
#pragma once

#include <string>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::notation {

/// The printed signs, or the spellings that any keyboard has. Header, quoted and song text are
/// the same in both.
enum class Alphabet { printed, ascii };

/// How a score is spelled.
struct NotationWriteOptions {
  Alphabet alphabet = Alphabet::printed;
};

/// The text of a score without broken invariants. Read again it is the same score, and writing
/// that gives the same text. Lines break where the score says, else after four bars and at double
/// bars and repeats. Nothing comes out beside an error: for notes without fingering, for signs and
/// rhythms that cannot be written, for texts beyond the reader's limits.
base::Outcome<std::string> write_notation(const model::Score& score,
                                          const NotationWriteOptions& options);

}  // namespace yubifu::notation
