#include "cli/log.h"

#include <algorithm>
#include <utility>

#include "cli/messages.h"

namespace yubifu::cli {

void Log::add(const base::Diagnostics& diagnostics, const base::SourceText& source) {
  result_.messages += printed(diagnostics, source);
  const bool lost = std::any_of(diagnostics.begin(), diagnostics.end(), [](const auto& found) {
    return found.severity == base::Severity::warning;
  });
  if (lost && strictness_ == Strictness::strict) raise(ExitStatus::findings);
  if (base::has_errors(diagnostics)) raise(ExitStatus::unusable);
}

void Log::add_line(const std::string& line) {
  result_.messages += without_control_characters(line) + '\n';
}

JobResult Log::take() {
  return std::move(result_);
}

}  // namespace yubifu::cli
