// Small helpers for tests that compare messages.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"

namespace yubifu::support {

/// "line:column severity rule" of each diagnostic, "-" where it has no place; the form in which
/// tests state what they expect.
std::vector<std::string> short_forms(const base::Diagnostics& diagnostics,
                                     const base::SourceText& source);

/// The names of the rules, in the order of the diagnostics.
std::vector<std::string> rule_names(const base::Diagnostics& diagnostics);

}  // namespace yubifu::support
