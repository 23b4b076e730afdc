// The rules that base reports: files that cannot be read or written.
#pragma once

#include <vector>

#include "base/rule.h"

namespace yubifu::base {

namespace rule {
inline constexpr Rule unreadable_file{"unreadable-file", Severity::error,
                                      "The input must exist and be a file that may be read.",
                                      "a path that does not exist", "a path that exists"};
inline constexpr Rule input_too_large{"input-too-large", Severity::error,
                                      "The input must not be larger than 256 MiB.",
                                      "a file of 300 MiB", "a file of 3 KiB"};
inline constexpr Rule unwritable_file{
    "unwritable-file", Severity::error, "The output must be in a folder that may be written.",
    "a path in a folder that does not exist", "a path in a folder that exists"};
}  // namespace rule

/// All of them, in the order above.
const std::vector<const Rule*>& rules();

}  // namespace yubifu::base
