// What keeps a score from being written as fingering text at all.
#pragma once

#include "base/diagnostic.h"
#include "model/score.h"
#include "notation/writer.h"

namespace yubifu::notation {

/// One error for each kind of fault, with the measures concerned: notes without fingering, signs
/// without a spelling, values that the reader would refuse, what passes its limits. Rhythms and the
/// number of words are left to the writer.
base::Diagnostics check_writable(const model::Score& score, Alphabet alphabet);

}  // namespace yubifu::notation
