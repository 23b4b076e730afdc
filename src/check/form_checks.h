// Bars, repeats and song text.
#pragma once

#include "base/diagnostic.h"
#include "fingering/resolve.h"
#include "model/score.h"

namespace yubifu::check {

/// Reports `short-bars`, and what the model says about repeats, endings and jumps.
base::Diagnostics check_bars(const model::Score& score);

/// Reports `syllable-unfinished` and, for scores from a staff, `song-gap`.
base::Diagnostics check_song(const model::Score& score, fingering::Origin origin);

}  // namespace yubifu::check
