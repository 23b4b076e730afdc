// Scores for the tests of check, from fingering text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "fingering/resolve.h"

namespace yubifu::tests {

/// A text that must be read and resolved without an error.
fingering::Resolved resolved_text(std::string_view text);

/// Names of all rules that reading, resolving and checking a text report at least as gravely as
/// `least`, after its comments have allowed what they allow.
std::vector<std::string> reported(std::string_view text, base::Severity least);

}  // namespace yubifu::tests
