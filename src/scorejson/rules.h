// The rules that scorejson reports.
#pragma once

#include <vector>

#include "base/rule.h"

namespace yubifu::scorejson {

/// All of them, in the order of this header.
const std::vector<const base::Rule*>& rules();

}  // namespace yubifu::scorejson
