// What is attached to one word: marks in braces, and `~`.
#pragma once

#include <string_view>

#include "base/source_text.h"
#include "model/score.h"
#include "notation/read/parser.h"
#include "notation/read/reports.h"
#include "notation/read/sign_reader.h"

namespace yubifu::notation {

/// Reads the braces and `~` after a word of a kind into a note that has nothing else: marks, grace
/// notes, asked holes, slur. Reports and leaves out what the word may not have. `held` is the sign
/// that a hold holds, as it is written; empty where it is not known.
model::Note read_attached(const base::SourceText& source, const Word& word, WordKind kind,
                          model::ZeroSign zero, Reports& reports, LookAlikes& look_alikes,
                          std::string_view held = {});

}  // namespace yubifu::notation
