// The tones of a recording.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "hearing/recording.h"
#include "hearing/stretches.h"

namespace yubifu::hearing {

/// More tones than this are no flute's signs (our choice).
inline constexpr std::size_t kMostTones = 400;

/// When in the recording: "1.2-1.5 s", "1.2-1.5, 3.4-3.6 s and 5 more".
std::string seconds_text(const std::vector<Tone>& tones);

/// Hears a recording from its beginning to its end and gives the tones that can be trusted, in the
/// order in which they sounded. Reports `tone-wavers` for one that keeps no pitch and `tone-short`
/// for one that ends too soon, both left out; `tone-overblown` for a start in the wrong octave and
/// `tone-hum` for a tone of the mains, both passed over; `tone-clipped` and `tone-drifts` for tones
/// that are kept all the same; `recording-silent` where there is none, and `tones-many` past
/// kMostTones.
base::Outcome<std::vector<Tone>> hear(Recording& recording);

}  // namespace yubifu::hearing
