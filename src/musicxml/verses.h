// Song text: lyrics to the syllables of the notes, numbers of verses to their names. Shows pugixml.
#pragma once

#include <string>
#include <vector>

#include "musicxml/note_texts.h"

namespace yubifu::musicxml {

/// More verses than this are left out.
inline constexpr std::size_t kMostVerses = 99;

/// Gives the notes the syllables of all lyrics whose line is not `taken` as fingering; returns the
/// names of the verses in order: as a file of ours names them, otherwise counted from 1 in the
/// order of their numbers, "shoga" last.
std::vector<std::string> add_verses(MelodyNotes& melody, const PartLyrics& lyrics,
                                    const std::vector<bool>& taken, const BarMap& map,
                                    const AnnotationContext& context);

}  // namespace yubifu::musicxml
