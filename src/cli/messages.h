// Diagnostics as lines for people and editors.
#pragma once

#include <string>

#include "base/diagnostic.h"

namespace yubifu::cli {

/// More than this many lines a file are not printed; one last line tells how many were left out.
inline constexpr std::size_t kMostPrintedDiagnostics = 200;

/// One line a diagnostic, in the order of their places (those without a place first), free of
/// control characters that came from the input.
std::string printed(const base::Diagnostics& diagnostics, const base::SourceText& source);

/// Replaces control characters (line feed and tab excepted), so that a file cannot drive the
/// terminal.
std::string without_control_characters(std::string_view text);

/// Prints to standard error.
void print_message(std::string_view text);

}  // namespace yubifu::cli
