// Whether fingers give the note that a file says.
#pragma once

#include "model/pitch.h"

namespace yubifu::fingering {

/// True when a sound of the flute, rounded to the nearest semitone, is the pitch that a file says.
/// A flute between the sizes may be written as it sounds or as the nearest size, so semitones count
/// from C or from the flute's own 一.
bool agrees(const model::Pitch& said, const model::Pitch& sound, const model::Pitch& ichi);

}  // namespace yubifu::fingering
