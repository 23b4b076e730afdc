// Staff files that lost the name of their annotation: fingering that looks like song text.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "fingering/flute_line.h"
#include "model/score.h"

namespace yubifu::fingering {

/// A verse needs this many signs to be taken for fingering.
inline constexpr std::size_t kFewestAdoptedSigns = 3;

/// Whether fingers may lie whole octaves from the notes: in a staff file annotate may have put them
/// there, in a MIDI file the notes are what sounds.
enum class WrittenPitch { perhaps_octaves_off, exact };

/// A verse that was the fingering.
struct AdoptedVerse {
  std::string verse;  ///< its name
  int octaves = 0;    ///< by which it lay over the notes, which have moved there
};

/// Turns a verse into the fingering of its notes, if it has at least three signs, and nothing but
/// printed signs (perhaps with half hole, bend and strokes) and gaps, and all of them give the
/// note's pitch, to the nearest semitone, on the flute in force, or lie one same number of whole
/// octaves from it. Songs that count 一 二 三 stay songs. Numbered verses after the adopted one
/// move up. Nothing when there is none, and then the score stays as it was.
std::optional<AdoptedVerse> adopt_annotation(model::Score& score, const FluteLine& flutes,
                                             WrittenPitch written);

/// Moves the notes of a score that has fingers to where they sound, if at least three signs and all
/// of them lie one same number of whole octaves from the written notes, which is the result; 0 when
/// nothing moves.
int move_to_fingers(model::Score& score, const FluteLine& flutes);

}  // namespace yubifu::fingering
