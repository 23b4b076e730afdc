// Options that were given but cannot be heeded.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "cli/formats.h"
#include "cli/options.h"

namespace yubifu::cli {

/// A complaint about the first option given that belongs to other formats than this output's: what
/// the user asked for must not be passed over. Nothing when all are heeded.
std::optional<std::string> idle_option(const Options& options, const Format& to);

/// True when the option of that name was given, whatever its value.
bool is_given(const Options& options, std::string_view name);

}  // namespace yubifu::cli
