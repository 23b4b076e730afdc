// The whole score as JSON for other programs, without loss (schemas/score.schema.json).
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::scorejson {

/// What a score JSON says beside the score.
struct ScoreJsonWriteOptions {
  /// For a played-out score: for each note, the index of the written note. Empty for others.
  std::vector<std::size_t> source;
};

/// Writes any score without broken invariants, resolved or not. Notes stand on a line each. Reports
/// `onset-overflow` when the time from the start of the score leaves 64 bits, and `field-left-out`.
base::Outcome<std::string> write_score_json(const model::Score& score,
                                            const ScoreJsonWriteOptions& options = {});

}  // namespace yubifu::scorejson
