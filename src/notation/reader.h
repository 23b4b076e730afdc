// Fingering text to a score.
#pragma once

#include "base/outcome.h"
#include "model/score.h"

namespace yubifu::notation {

/// Reads fingering text, version 1 (schemas/notation.ebnf). Tones have their fingering, gaps their
/// spelling; flutes, pitches and patterns are left to fingering/. After a fault reading goes on at
/// the next word or bar, so one run tells all; the findings are in the order of the text. There is
/// no value for text that is not UTF-8 and for one without music.
base::Outcome<model::Score> read_notation(const base::SourceText& source);

}  // namespace yubifu::notation
