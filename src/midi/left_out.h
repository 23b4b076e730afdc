// What a MIDI file cannot hold, told once for the whole score.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "midi/writer.h"
#include "model/score.h"

namespace yubifu::midi {

/// "bar 3", "bars 3, 5 and 8"; the first few of a long list and how many there are.
std::string bar_list(const std::vector<std::string>& bars);

/// Notes about marks, slurs and asked hole patterns, song text that is not written, and comments.
void report_left_out(const model::Score& score, Lyrics lyrics, base::Diagnostics& diagnostics);

}  // namespace yubifu::midi
