// What a score holds that the fingering text cannot say.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "model/bar_content.h"
#include "model/score.h"

namespace yubifu::notation {

/// One finding a rule, with the measures concerned: notes without fingering, signs without a
/// spelling, unknown header fields, notes held over a change of flute, texts of several lines or
/// beyond the reader's limits. Rhythms are left to the writer.
base::Diagnostics check_writable(const model::Score& score,
                                 const std::vector<model::BarContent>& contents);

/// True when `zero: tube` has to be left out, since a note is the cross-fingered 0.
bool is_zero_taken(const model::Score& score);

}  // namespace yubifu::notation
