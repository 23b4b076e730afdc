// A performance made ready for practice: some bars, slower, over and over, with a count-in.
#pragma once

#include <cstdint>
#include <vector>

#include "base/diagnostic.h"
#include "midi/write/performance.h"

namespace yubifu::midi {

/// Of the beats of the bars, in order; none in free time.
std::vector<Timed<Stroke>> bar_clicks(const Performance& performance);

/// The felt beat of a meter that is counted, in ticks.
std::int64_t beat_ticks(const model::Meter& meter, int ppq);

/// Cuts out the bars, scales the tempo, repeats, and puts the count-in before it: whole bars of the
/// first bar's meter, and what a short first bar lacks. In free time nothing is counted, so that
/// there is no click (a note says so). Reports bars that are not played.
base::Outcome<Performance> practise(Performance performance, const Practice& practice);

}  // namespace yubifu::midi
