// The key of a melody, where the score gives none, and keys moved with the music.
#pragma once

#include <vector>

#include "model/pitch.h"

namespace yubifu::fingering {

/// The key in whose scale the most of these MIDI keys lie; of equals, one whose do or la is the
/// last note (la gives the minor key), then the one with fewer sharps or flats, then sharps.
model::Key find_key(const std::vector<int>& midi_keys);

/// The key so many semitones higher, with at most six sharps or flats; six of the kind that the
/// key had.
model::Key moved_key(const model::Key& key, int semitones);

}  // namespace yubifu::fingering
