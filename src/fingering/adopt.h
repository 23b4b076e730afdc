// Staff files that lost the name of their annotation: fingering that looks like song text.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "fingering/flute_line.h"
#include "model/score.h"

namespace yubifu::fingering {

/// A verse needs this many texts to be taken for fingering.
inline constexpr std::size_t kFewestAdoptedSigns = 3;

/// Turns a verse into the fingering of its notes, if it has at least three texts and every one of
/// them is a printed sign (perhaps with half hole, bend and strokes) that sounds the note's
/// pitch, to the nearest semitone, on the flute in force. Songs that count 一 二 三 stay songs.
/// Numbered verses after the adopted one move up. Gives the name that the verse had; nothing when
/// there is none, and then the score stays as it was.
std::optional<std::string> adopt_annotation(model::Score& score, const FluteLine& flutes);

}  // namespace yubifu::fingering
