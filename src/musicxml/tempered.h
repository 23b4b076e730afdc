// Flutes that follow no Western scale: what a staff cannot say of them.
#pragma once

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::musicxml {

/// A tone further than this from the tempered scale that begins with 一 is not what the staff
/// shows. Flutes tuned by pure fifths stay within it.
inline constexpr double kMostFromTempered = 25;

/// One warning, `nearest-tempered`, for a score whose flute plays notes between those of the staff;
/// it names the measures. Bends that the fingering tells do not count, nor does a flute that lies
/// higher or lower as a whole.
base::Diagnostics tell_tempered(const model::Score& score);

}  // namespace yubifu::musicxml
