// Options that an output cannot heed.
#pragma once

#include <optional>
#include <string>

#include "cli/formats.h"
#include "cli/options.h"

namespace yubifu::cli {

/// A complaint about the first option given that belongs to other formats than this output's: what
/// the user asked for must not be passed over. Nothing when all are heeded.
std::optional<std::string> idle_option(const Options& options, const Format& to);

}  // namespace yubifu::cli
