// Reads the notes and the marked rests of a score JSON.
#pragma once

#include <vector>

#include "base/json.h"
#include "model/score.h"

namespace yubifu::scorejson {

/// Adds the notes of the array to the score, whose measures are there already and begin at
/// `starts`. Each note's source is its object's place.
void read_notes(const base::JsonArray& array, const std::vector<model::Rational>& starts,
                model::Score& score, base::Diagnostics& diagnostics);

/// The same for marked rests.
void read_rests(const base::JsonArray& array, const std::vector<model::Rational>& starts,
                model::Score& score, base::Diagnostics& diagnostics);

}  // namespace yubifu::scorejson
