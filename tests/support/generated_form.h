// The first step of a random score: its measures, with meters, lengths, bar signs and jumps.
#pragma once

#include "model/score.h"
#include "support/dice.h"
#include "support/score_generator.h"

namespace yubifu::support {

/// Fills in the measures (without numbers, breaks and comments) and the directions that shape the
/// form: jumps and changes of beat inside a measure.
void add_form(model::Score& score, Dice& dice, const GeneratorOptions& options);

/// True when playing may arrive at this measure from elsewhere, or not go on to it from the one
/// before: repeat signs, borders of endings and jumps.
bool follows_a_seam(const model::Score& score, std::size_t measure);

}  // namespace yubifu::support
