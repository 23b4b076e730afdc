// The exit status, the same for every verb.
#pragma once

#include <algorithm>

namespace yubifu::cli {

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

}  // namespace yubifu::cli
