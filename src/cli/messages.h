// Diagnostics as lines for people and editors.
#pragma once

#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "check/findings.h"
#include "check/report.h"
#include "cli/exit_status.h"

namespace yubifu::cli {

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

}  // namespace yubifu::cli
