// What a MIDI file cannot hold, told once for the whole score.
#pragma once

#include "base/diagnostic.h"
#include "midi/writer.h"
#include "model/score.h"

namespace yubifu::midi {

/// Notes about marks, slurs and asked hole patterns, song text that is not written, and comments.
void report_left_out(const model::Score& score, Lyrics lyrics, base::Diagnostics& diagnostics);

}  // namespace yubifu::midi
