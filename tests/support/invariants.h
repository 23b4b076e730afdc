// The invariants of a score, as tests ask for them.
#pragma once

#include <string>
#include <vector>

#include "model/score.h"

namespace yubifu::support {

/// A sentence for each broken invariant, none for a sound score.
std::vector<std::string> broken_invariants(const model::Score& score);

}  // namespace yubifu::support
