// What one job found: its messages in order and what they mean for the exit status.
#pragma once

#include <string>

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "cli/batch.h"
#include "cli/options.h"

namespace yubifu::cli {

class Log {
 public:
  explicit Log(Strictness strictness) : strictness_(strictness) {}

  /// Errors make the job unusable; with Strictness::strict, warnings are findings.
  void add(const base::Diagnostics& diagnostics, const base::SourceText& source);

  /// A line that is no finding; control characters are replaced.
  void add_line(const std::string& line);

  void raise(ExitStatus status) { result_.status = worse(result_.status, status); }

  bool failed() const { return result_.status == ExitStatus::unusable; }

  JobResult take();

 private:
  Strictness strictness_;
  JobResult result_;
};

}  // namespace yubifu::cli
