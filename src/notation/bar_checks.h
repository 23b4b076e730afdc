// The lengths of the bars, once all of them are known.
#pragma once

#include <vector>

#include "model/score.h"
#include "notation/bar_facts.h"
#include "notation/reports.h"

namespace yubifu::notation {

/// Sets Measure::irregular and the measure numbers, and reports bars of a wrong length and
/// incomplete words at a wrong place. Throws TimeOverflow.
void check_bars(model::Score& score, const std::vector<BarFacts>& facts, Reports& reports);

}  // namespace yubifu::notation
