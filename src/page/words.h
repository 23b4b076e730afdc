// The fingering text of what a page shows, for copying, searching and reading aloud.
#pragma once

#include <string>

#include "model/score.h"
#include "page/columns.h"
#include "page/strip.h"

namespace yubifu::page {

/// A note or a marked rest with its additions: 三メ↓20{uchi}~.
std::string words_of(const model::Note& note);
std::string words_of(const model::Rest& rest);

/// `|:`, or nothing.
std::string opening_sign(const model::Measure& measure);

/// `|`, `||`, `|=`, `:|`, `:|x3`.
std::string closing_sign(const model::Measure& measure);

/// A piece with the bar signs that stand at its ends.
std::string words_of(const model::Score& score, const Bar& bar, const Piece& piece);

}  // namespace yubifu::page
