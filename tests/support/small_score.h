// Small scores for tests that change one thing about them.
#pragma once

#include "model/score.h"

namespace yubifu::support {

/// Measures of 4/4 with four quarter notes each, all 三 of the low register, numbered from 1.
model::Score small_score(std::size_t measures);

/// A fingered tone of the low (一 to 七) register.
model::Tone low_tone(int number);

}  // namespace yubifu::support
