// The tuning of a score as players of MIDI hear it, who have A4 at 440 Hz.
#pragma once

#include <cmath>

#include "model/header.h"

namespace yubifu::midi {

/// How far the header's A4 is from 440 Hz, in cents: 7.85 for 442. The writer bends every note by
/// it; the reader takes it off again in files that name the tuning as ours do.
inline double tuning_cents(const model::Header& header) {
  return header.tuning_hz ? 1200 * std::log2(*header.tuning_hz / model::kConcertPitchHz) : 0;
}

}  // namespace yubifu::midi
