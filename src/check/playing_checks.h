// What the player's fingers, breath and ears are asked for.
#pragma once

#include "base/diagnostic.h"
#include "fingering/resolve.h"

namespace yubifu::check {

/// Reports `third-register` once with all measures, `fast-leap`, `long-breath` for the longest
/// stretch and, where the numbers were written by somebody, `lone-eight` and `zero-or-tube`.
base::Diagnostics check_playing(const fingering::Resolved& resolved, fingering::Origin origin);

}  // namespace yubifu::check
