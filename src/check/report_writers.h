// The reports for machines, one function a format.
#pragma once

#include <string>
#include <vector>

#include "check/report.h"

namespace yubifu::check {

/// Each gives one document of all files, as a ReportWriter does.
std::string json_report(const std::vector<FileReport>& files, const RunFacts& facts);
std::string sarif_report(const std::vector<FileReport>& files, const RunFacts& facts);
std::string junit_report(const std::vector<FileReport>& files, const RunFacts& facts);

/// "message (hint)".
std::string message_and_hint(const Finding& finding);

}  // namespace yubifu::check
