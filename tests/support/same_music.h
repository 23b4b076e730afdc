// Whether two scores say the same, and where they first do not.
#pragma once

#include <optional>
#include <string>

#include "model/score.h"

namespace yubifu::support {

/// How much must agree.
enum class Sameness {
  everything,      ///< all that the fingering text holds, layout and comments aside
  pitch_and_time,  ///< key, cents (within one), onset and duration; bars may differ
};

/// A sentence that names the first difference, or nothing when the scores agree. Measure numbers,
/// source places, line breaks, comments, resolved flutes, patterns, pitches of fingered notes and
/// spellings (except those of gaps) do not count. A note that is not fingered counts by its pitch.
/// Both scores must be free of broken invariants.
std::optional<std::string> first_difference(const model::Score& a, const model::Score& b,
                                            Sameness sameness = Sameness::everything);

}  // namespace yubifu::support
