#include "cli/report/log.h"

#include <algorithm>

#include "base/file.h"
#include "cli/loading.h"
#include "cli/report/messages.h"

namespace yubifu::cli {

void Log::add(const base::Diagnostics& diagnostics, const base::SourceText& source) {
  if (kind_ == check::ReportKind::text) {
    result_.messages += printed(diagnostics, source);
  } else if (!diagnostics.empty()) {
    check::add_located(report_of(source.name()), diagnostics, source);
  }
  const bool lost = std::any_of(diagnostics.begin(), diagnostics.end(), [](const auto& found) {
    return found.severity == base::Severity::warning;
  });
  if (lost && strictness_ == Strictness::strict) raise(ExitStatus::findings);
  if (base::has_errors(diagnostics)) raise(ExitStatus::unusable);
}

bool Log::add_problem(const FoundFile& file) {
  if (!file.problem) return false;
  add({*file.problem}, file.path);
  if (file.problem->severity != base::Severity::note) raise(ExitStatus::unusable);
  return true;
}

void Log::add_line(const std::string& line) {
  const std::string clean = without_control_characters(line);
  if (kind_ == check::ReportKind::text || result_.reports.empty()) {
    result_.messages += clean + '\n';
  } else {
    result_.reports.front().remarks.push_back(clean);
  }
}

bool Log::write(const std::string& path, std::string_view bytes) {
  add(base::write_file(path, bytes), output_name(path));
  return !failed();
}

ExitStatus Log::finish() const {
  print_message(result_.messages);
  return result_.status;
}

check::FileReport& Log::report_of(const std::string& name) {
  const auto known = std::find_if(result_.reports.begin(), result_.reports.end(),
                                  [&](const auto& report) { return report.name == name; });
  if (known != result_.reports.end()) return *known;
  return result_.reports.emplace_back(check::FileReport{name, {}, {}});
}

}  // namespace yubifu::cli
