// What the tests of the played order and of the unfolded score share.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::model {

/// A cue at its place in a measure of 4/4.
inline Direction cue(std::size_t measure, Cue value) {
  const bool at_start = value == Cue::segno || value == Cue::coda;
  return {measure, at_start ? 0 : 4, value, {}};
}

inline std::vector<std::string> rule_names(const base::Diagnostics& diagnostics) {
  std::vector<std::string> names;
  for (const base::Diagnostic& diagnostic : diagnostics) {
    names.emplace_back(diagnostic.rule->name);
  }
  return names;
}

}  // namespace yubifu::model
