// The rules that midi reports.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "midi/music_rules.h"
#include "midi/structure_rules.h"
#include "midi/writing_rules.h"

namespace yubifu::midi {

/// All of them: writing, then the structure of a file, then its music, in the order of these
/// headers.
const std::vector<const base::Rule*>& rules();

}  // namespace yubifu::midi
