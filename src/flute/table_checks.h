// What can be doubted about a flute's table, though it is sound.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "flute/entry.h"

namespace yubifu::flute {

/// Reports `flute-alike` for signs with the same fingers, steadying aside, that lie too close to be
/// told apart by the breath (an overblown octave and カ beside メ are no fault) and for a pattern
/// that a sign has twice; `flute-order` for plain numbers of a register that do not rise
/// (cross-fingerings and half holes need not). `places` has the place of each entry.
base::Diagnostics doubts_about(const std::vector<Entry>& entries,
                               const std::vector<base::SourceRange>& places);

}  // namespace yubifu::flute
