// The rules that midi reports.
#pragma once

#include <vector>

#include "base/rule.h"

namespace yubifu::midi {

/// All of them, in the order of this header.
const std::vector<const base::Rule*>& rules();

}  // namespace yubifu::midi
