// Reads the measures of a score JSON, with their directions.
#pragma once

#include <vector>

#include "base/json.h"
#include "model/score.h"

namespace yubifu::scorejson {

/// Adds the measures of the array to the score and gives the time at which each begins. A measure
/// that does not say so is irregular where the rules of the notation make it so; measures without
/// numbers are numbered when none has one. Throws TimeOverflow.
std::vector<model::Rational> read_measures(const base::JsonArray& array, model::Score& score,
                                           base::Diagnostics& diagnostics);

}  // namespace yubifu::scorejson
