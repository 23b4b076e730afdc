// What the program says and how it ends: diagnostics as lines for people and editors, reports for
// machines, the exit status.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "check/findings.h"
#include "check/report.h"

namespace yubifu::cli {

struct Options;

/// What the program ends with.
enum class ExitStatus {
  done = 0,      ///< nothing to report
  findings = 1,  ///< faults found, or something was lost and --strict was given
  unusable = 2,  ///< wrong usage, unreadable input or unwritable output
};

/// The graver of two.
inline ExitStatus worse(ExitStatus a, ExitStatus b) {
  return std::max(a, b);
}

/// The lines of check::text_report for diagnostics about one text, in the colours of
/// `message_colours`.
std::string printed(const base::Diagnostics& diagnostics, const base::SourceText& source);

/// Colours where standard error is a terminal and the environment does not forbid them (NO_COLOR,
/// TERM=dumb).
check::Colours message_colours();

using check::without_control_characters;

/// Says why the program cannot do what it was asked for.
ExitStatus refuse(const std::string& sentence);

/// Prints to standard error.
void print_message(std::string_view text);

/// Prints to standard output; where that fails (a closed pipe, a full disk), says so on standard
/// error and returns false.
bool print_result(std::string_view text);

/// Where a report for machines goes.
enum class ReportTarget { standard_output, standard_error };

/// Writes the report that --report asks for; text was told as the work went on. Gives the exit
/// status of the program: `status`, or unusable when the report could not be written.
ExitStatus finish_report(const Options& options, std::string_view verb, ExitStatus status,
                         const std::vector<check::FileReport>& files, ReportTarget target);

}  // namespace yubifu::cli
