#include "notation/reports.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "notation/rules.h"

namespace yubifu::notation {

void Reports::add(const base::Rule& rule, base::SourceRange where, std::string message,
                  std::string hint) {
  add(base::report(rule, where, std::move(message), std::move(hint)));
}

void Reports::add_all(base::Diagnostics findings) {
  for (base::Diagnostic& finding : findings) add(std::move(finding));
}

bool Reports::has(const base::Rule& rule) const {
  return std::any_of(diagnostics_.begin(), diagnostics_.end(),
                     [&](const base::Diagnostic& found) { return found.rule == &rule; });
}

void Reports::add(base::Diagnostic finding) {
  if (diagnostics_.size() < kMostFindings) {
    diagnostics_.push_back(std::move(finding));
  } else if (diagnostics_.size() == kMostFindings) {
    diagnostics_.push_back(
        base::report(rule::too_many_findings, finding.where,
                     base::message("more than {} findings, the rest is not told", kMostFindings),
                     base::message("mend these first")));
  }
}

}  // namespace yubifu::notation
