// Zip archives byte by byte, also such as no honest program writes.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace yubifu::musicxml {

struct ZipEntry {
  std::string name;
  std::string content;
  /// 0 stores, 8 deflates (in blocks that are not compressed); others are written as they stand.
  std::uint16_t method = 0;
  bool encrypted = false;  ///< only says so
  /// What the archive says of the content's size, where it lies.
  std::optional<std::uint32_t> declared_size = std::nullopt;
};

/// The layout of the .ZIP File Format Specification (APPNOTE): local headers with their data, the
/// central directory, its end.
std::string zip_archive(const std::vector<ZipEntry>& entries);

/// META-INF/container.xml that names these files, each with the media type of a score.
ZipEntry container_naming(const std::vector<std::string>& paths);

}  // namespace yubifu::musicxml
