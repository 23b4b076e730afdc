#include "cli/report_output.h"

#include <string>

#include "base/message.h"
#include "cli/all_rules.h"
#include "cli/messages.h"

namespace yubifu::cli {

ExitStatus finish_report(const Options& options, std::string_view verb, ExitStatus status,
                         const std::vector<check::FileReport>& files, ReportTarget target) {
  const check::ReportWriter write = check::report_writer(options.proof.report);
  if (write == nullptr) return status;
  const check::RunFacts facts{YUBIFU_VERSION, std::string(verb), static_cast<int>(status),
                              all_rules()};
  const std::string report = write(files, facts);
  if (target == ReportTarget::standard_error) {
    print_message(report);
    return status;
  }
  return print_result(report) ? status : ExitStatus::unusable;
}

}  // namespace yubifu::cli
