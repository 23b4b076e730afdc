// What keeps a score from being written as fingering text at all.
#pragma once

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::notation {

/// One error a rule, with the measures concerned: notes without fingering, signs without a
/// spelling, what passes the reader's limits. Rhythms are left to the writer.
base::Diagnostics check_writable(const model::Score& score);

}  // namespace yubifu::notation
