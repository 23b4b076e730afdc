// A score as it sounds, in the form in which a MIDI file holds it: to compare the two.
#pragma once

#include <optional>

#include "model/score.h"

namespace yubifu::check {

/// Repeats, endings and jumps played out, grace notes as notes that take their time from the main
/// one (an eighth of a quarter each, together at most half of it), and of the song text what each
/// time through sings, as verse 1: the first time the first verse, then the next one, if there is
/// one; shoga where there is nothing else. Gaps lose their spelling; marks, slurs and directions
/// are gone, except for tempos. Nothing for a score that cannot be played out.
std::optional<model::Score> as_sounding(const model::Score& score);

}  // namespace yubifu::check
