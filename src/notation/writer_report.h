// Findings of the writer: they name measures, as a score has no places in a text.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::notation {

/// A finding with the printed numbers of the measures, in the order given, repetitions left out; of
/// many the first fifty. The message ends with them.
base::Diagnostic report_measures(const model::Score& score, const base::Rule& rule,
                                 std::string message, std::string hint,
                                 const std::vector<std::size_t>& measures);

}  // namespace yubifu::notation
