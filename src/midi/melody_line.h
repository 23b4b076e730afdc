// From the notes of one part to a line that one flute can play: one note at a time.
#pragma once

#include <vector>

#include "midi/findings.h"
#include "midi/note_pairing.h"
#include "midi/reader.h"

namespace yubifu::midi {

/// Whether notes at the far end of the keyboard belong to the music.
enum class FarNotes { kept, left_out };

/// Notes without length get a short one. Whether the part has chords or only an overlapping legato
/// is decided for all of it. Of notes that sound together keeps the top (or bottom) one; of notes
/// that merely overlap both stay, and who reads the line cuts the earlier one short. Far notes lie
/// more than an octave from all others and outside the three octaves of a flute where most of the
/// part lies, and are few, or outside the keys of a piano: they are breath markers and key
/// switches. In a part with chords, notes under the line (over the bottom one) that fill its rests
/// are known by a register of their own. The result is in order and has no two notes beginning
/// together. Everything but small overlaps is found and told. The part is not empty and in order
/// of its beginnings.
std::vector<PairedNote> melody_line(std::vector<PairedNote> part, Line line, int ppq, FarNotes far,
                                    Findings& findings);

}  // namespace yubifu::midi
