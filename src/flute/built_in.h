// The built-in flutes: sizes 1 to 13 of the seven-hole flute in equal temperament, with half
// sizes and offsets in cents.
#pragma once

#include "flute/flute.h"

namespace yubifu::flute {

/// True for the sizes 1, 1.5, 2 … 13 with an offset of less than a semitone.
bool is_built_in(const model::FluteSize& size);

/// The flute of a size at a tuning of A4. Sizes are a semitone apart; 一 is F4 on size 1, C5 on
/// size 8 (Japanese Wikipedia, 篠笛); half sizes between them and size 13 an octave over size 1
/// are our choice. Throws std::invalid_argument for a size that is not built
/// in.
Flute built_in_flute(const model::FluteSize& size, double a4_hz);

}  // namespace yubifu::flute
