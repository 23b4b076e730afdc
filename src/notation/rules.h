// The rules that notation reports.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "notation/direction_rules.h"
#include "notation/text_rules.h"
#include "notation/time_rules.h"
#include "notation/word_rules.h"
#include "notation/writing_rules.h"

namespace yubifu::notation {

/// All of them, in the order of these headers.
const std::vector<const base::Rule*>& rules();

}  // namespace yubifu::notation
