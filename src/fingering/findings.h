// Findings that repeat from note to note, told once with all their measures.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <utility>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::fingering {

/// Collects diagnostics; those of one rule with one message become one, at the place of the first.
class Findings {
 public:
  /// The score must outlive this; its measures must not change.
  explicit Findings(const model::Score& score) : score_(score) {}

  /// `severity` may differ from the rule's own.
  void add(const base::Rule& rule, base::Severity severity, std::size_t note, std::string message,
           std::string hint);
  void add(const base::Rule& rule, std::size_t note, std::string message, std::string hint) {
    add(rule, rule.severity, note, std::move(message), std::move(hint));
  }

  /// The messages name the measures where the place alone does not tell them.
  base::Diagnostics take();

 private:
  const model::Score& score_;
  base::Diagnostics diagnostics_;
  /// Rule name and message, to the index of the diagnostic and the last measure in its list.
  std::map<std::pair<std::string, std::string>, std::pair<std::size_t, std::size_t>> known_;
};

}  // namespace yubifu::fingering
