// Flutes that lie between the sizes are written as the nearest size.
#pragma once

#include <vector>

#include "model/score.h"

namespace yubifu::musicxml {

/// In a staff in C of our own writing, pitches with a fraction of a semitone count from the
/// nearest size of a flute that has an offset (half sizes, 6+15c): adds the offset to them. Whole
/// pitches stay as they are written; resolving takes them for notes of the flute. Flutes of a file
/// are left alone, for nobody here knows them.
void add_offsets(const model::Header& header, const std::vector<model::Direction>& directions,
                 std::vector<model::Note>& notes);

}  // namespace yubifu::musicxml
