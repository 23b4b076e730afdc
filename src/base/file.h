// Reading whole files, and writing them whole or not at all.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"

namespace yubifu::base {

/// Input larger than this many bytes is refused before it is read.
inline constexpr std::size_t kMostInputBytes = std::size_t{256} * 1024 * 1024;

/// The bytes of a file, or of standard input for "-". Reports `unreadable-file` or
/// `input-too-large`.
Outcome<std::string> read_file(const std::string& path);

/// Bytes that are fetched where and when they are wanted, as from a file too large to be held.
struct ByteSource {
  std::uint64_t size = 0;
  /// Copies up to `count` bytes from `offset` on to `to` and says how many there were: fewer at the
  /// end, and where the file cannot be read on.
  std::function<std::size_t(std::uint64_t offset, char* to, std::size_t count)> read;
};

/// Of bytes that are held.
ByteSource bytes_of(std::string held);

/// Opens a file of any size; standard input ("-") and what else is no file of a size is held and
/// must not be larger than kMostInputBytes. Reports as `read_file` does.
Outcome<ByteSource> open_file(const std::string& path);

/// Writes beside the target and renames, so that a reader sees the old file or the new one and a
/// failure leaves the old one whole. Follows a link to its target, keeps the permissions of a file
/// that was there. "-" is standard output, where a reader that closes the pipe has had enough.
/// Reports `unwritable-file`.
Diagnostics write_file(const std::string& path, std::string_view bytes);

}  // namespace yubifu::base
