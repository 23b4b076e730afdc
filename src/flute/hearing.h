// High notes are loud next to the ear.
#pragma once

#include <string>

#include "flute/flute.h"

namespace yubifu::flute {

/// The frequency from which on every note counts as loud, in Hz (our choice): C7 is 2,093 Hz.
inline constexpr double kLoudHz = 2000;

/// True for a note whose practice calls for the caution: one of the third register, and whatever
/// sounds at kLoudHz or more, bend included. Never for a gap or what the table does not hold.
bool is_loud(const Flute& flute, const model::Fingering& fingering);

/// The one short caution given wherever a result holds loud notes.
std::string hearing_caution();

}  // namespace yubifu::flute
