// The header of a score from what a MIDI file says beside its notes.
#pragma once

#include "midi/surroundings.h"
#include "model/score.h"

namespace yubifu::midi {

/// Sets title, rights and the fields that this program kept. A field that cannot be read is kept as
/// an unknown one. `beat` goes to the measures up to the first change of meter.
void set_header_fields(const Surroundings& surroundings, model::Score& score);

}  // namespace yubifu::midi
