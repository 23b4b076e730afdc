// From the words of a command line to Options.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "cli/options/options.h"

namespace yubifu::cli {

/// A sentence for the user that says what is wrong and what would be right.
using UsageError = std::string;

/// Reads the words after the verb. Options and inputs may be mixed; after "--" all are inputs.
std::variant<Options, UsageError> parse_command_line(std::string_view verb,
                                                     const std::vector<std::string>& words);

}  // namespace yubifu::cli
