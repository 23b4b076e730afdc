// The second step of a random score: when notes, holds and rests begin.
#pragma once

#include <vector>

#include "model/score.h"
#include "support/dice.h"
#include "support/score_generator.h"

namespace yubifu::support {

/// The onsets of the words of one measure, groups opened: rising, the first 0. Changes of beat
/// inside it must be in the score already.
std::vector<model::Rational> random_onsets(const model::Score& score, std::size_t measure,
                                           Dice& dice, const GeneratorOptions& options);

}  // namespace yubifu::support
