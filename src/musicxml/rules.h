// The rules that musicxml reports.
#pragma once

#include <vector>

#include "base/rule.h"

namespace yubifu::musicxml {

/// All of them, in the order of this header.
const std::vector<const base::Rule*>& rules();

}  // namespace yubifu::musicxml
