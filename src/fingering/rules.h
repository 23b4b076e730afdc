// The rules that fingering reports.
#pragma once

#include <vector>

#include "base/rule.h"

namespace yubifu::fingering {

/// All of them, in the order of this header.
const std::vector<const base::Rule*>& rules();

}  // namespace yubifu::fingering
