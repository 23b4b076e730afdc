// Reads a score JSON (schemas/score.schema.json).
#pragma once

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "model/score.h"

namespace yubifu::scorejson {

/// The score, which holds every invariant, or nothing beside errors that name the line, the column
/// and the member. What follows from other members (a measure's index and onset, the text of grace
/// notes) may be left out; where it stands it has to be true. Reports base's json rules,
/// `not-score-json`, `score-inconsistent` and `onset-overflow`.
base::Outcome<model::Score> read_score_json(const base::SourceText& source);

}  // namespace yubifu::scorejson
