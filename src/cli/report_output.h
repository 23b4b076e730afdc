// The report of a whole run, for those kinds that are one document.
#pragma once

#include <string_view>
#include <vector>

#include "check/findings.h"
#include "cli/exit_status.h"
#include "cli/options.h"

namespace yubifu::cli {

/// Where a report for machines goes.
enum class ReportTarget { standard_output, standard_error };

/// Writes the report that --report asks for; text was told as the work went on. Gives the exit
/// status of the program: `status`, or unusable when the report could not be written.
ExitStatus finish_report(const Options& options, std::string_view verb, ExitStatus status,
                         const std::vector<check::FileReport>& files, ReportTarget target);

}  // namespace yubifu::cli
