// Flutes that lie between the sizes are written as the nearest size.
#pragma once

#include <vector>

#include "model/score.h"

namespace yubifu::musicxml {

/// For a staff of our own writing and flutes that have an offset (half sizes, 6+15c). In C, pitches
/// with a fraction of a semitone count from the nearest size: adds the offset to them. Whole
/// pitches stay as they are written, and resolving takes them for notes of the flute; but where the
/// staff shows that it has fractions, a bend that takes away the whole offset leaves one that is no
/// such note, and gets an inaudible fraction. Flutes of a file are left alone, for nobody here
/// knows them.
void add_offsets(const model::Header& header, const std::vector<model::Direction>& directions,
                 std::vector<model::Note>& notes);

}  // namespace yubifu::musicxml
