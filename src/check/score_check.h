// What can be doubted about a score, whatever format it came from.
#pragma once

#include "base/diagnostic.h"
#include "fingering/resolve.h"

namespace yubifu::check {

/// Reports the rules about the score's own music: third register, fast leaps, long stretches
/// without a breath, numbers that look mistaken, song text, bars; and the model's rules about
/// repeats, endings and jumps that do not pair. `origin` tells how the score came, because the
/// reader of fingering text has checked some of it already.
base::Diagnostics check_score(const fingering::Resolved& resolved, fingering::Origin origin);

}  // namespace yubifu::check
