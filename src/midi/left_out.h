// What a MIDI file cannot hold, told once for the whole score.
#pragma once

#include "base/diagnostic.h"
#include "midi/writer.h"
#include "model/score.h"

namespace yubifu::midi {

/// Adds notes about what of the written score no event says: marks that are not heard, slurs, asked
/// hole patterns, caesuras, dynamics without a meaning, verses other than `lyrics` and comments.
/// Each kind is told once, with its bars.
void report_left_out(const model::Score& score, Lyrics lyrics, base::Diagnostics& diagnostics);

}  // namespace yubifu::midi
