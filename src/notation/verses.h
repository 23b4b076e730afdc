// Song lines: words onto notes.
#pragma once

#include "base/diagnostic.h"
#include "model/score.h"
#include "notation/score_builder.h"
#include "notation/tree.h"

namespace yubifu::notation {

/// Gives the notes of `built` their syllables and the score its verses. A line over music that
/// could not be read whole is left out.
base::Diagnostics add_song_text(const base::SourceText& source, const Tree& tree,
                                BuiltScore& built);

}  // namespace yubifu::notation
