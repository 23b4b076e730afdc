// Where the stages of the reader gather what they have to say; a broken text cannot fill memory.
#pragma once

#include <algorithm>
#include <string>
#include <utility>

#include "base/diagnostic.h"
#include "base/message.h"
#include "notation/rules.h"

namespace yubifu::notation {

/// A list of findings that ends at kMostFindings.
class Reports {
 public:
  /// The finding, with the rule's own severity; beyond the limit one `too-many-findings` instead.
  void add(const base::Rule& rule, base::SourceRange where, std::string message,
           std::string hint = {}) {
    if (is_full()) return;
    diagnostics_.push_back(
        diagnostics_.size() < kMostFindings
            ? base::report(rule, where, std::move(message), std::move(hint))
            : base::report(
                  rule::too_many_findings, where,
                  base::message("more than {} findings, the rest is not told", kMostFindings),
                  base::message("mend these first")));
  }

  /// A fault, now that it is known where it stands.
  void add(Fault fault, base::SourceRange where) {
    add(*fault.rule, where, std::move(fault.message), std::move(fault.hint));
  }

  /// True when nothing more is kept: what is costly to say need not be said.
  bool is_full() const { return diagnostics_.size() > kMostFindings; }

  /// True when the rule is among the findings kept.
  bool has(const base::Rule& rule) const {
    return std::any_of(diagnostics_.begin(), diagnostics_.end(),
                       [&](const base::Diagnostic& found) { return found.rule == &rule; });
  }

  base::Diagnostics take() { return std::move(diagnostics_); }

 private:
  base::Diagnostics diagnostics_;
};

}  // namespace yubifu::notation
