// Reading whole files, and writing them whole or not at all.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/diagnostic.h"

namespace yubifu::base {

/// Input larger than this many bytes is refused before it is read.
inline constexpr std::size_t kMostInputBytes = std::size_t{256} * 1024 * 1024;

/// The bytes of a file, or of standard input for "-". Reports `unreadable-file` or
/// `input-too-large`.
Outcome<std::string> read_file(const std::string& path);

/// Writes beside the target and renames, so that a reader sees the old file or the new one and a
/// failure leaves the old one whole. Follows a link to its target, keeps the permissions of a
/// file that was there. "-" writes to standard output, where a
/// reader that closes the pipe has had enough. Reports `unwritable-file`.
Diagnostics write_file(const std::string& path, std::string_view bytes);

}  // namespace yubifu::base
