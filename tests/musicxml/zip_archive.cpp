#include "musicxml/zip_archive.h"

#include <algorithm>
#include <string_view>

namespace yubifu::musicxml {
namespace {

constexpr std::uint16_t kDeflate = 8;
constexpr std::size_t kLongestBlock = 65535;

void append16(std::string& out, std::size_t value) {
  out += static_cast<char>(value & 0xFF);
  out += static_cast<char>((value >> 8) & 0xFF);
}

void append32(std::string& out, std::size_t value) {
  append16(out, value & 0xFFFF);
  append16(out, (value >> 16) & 0xFFFF);
}

// CRC-32 as in APPNOTE 4.4.7.
std::uint32_t checksum(std::string_view bytes) {
  std::uint32_t rest = 0xFFFFFFFFu;
  for (const char byte : bytes) {
    rest ^= static_cast<unsigned char>(byte);
    for (int bit = 0; bit < 8; ++bit) rest = (rest >> 1) ^ ((rest & 1) != 0 ? 0xEDB88320u : 0u);
  }
  return ~rest;
}

// Blocks of type 00 (RFC 1951, 3.2.4).
std::string deflated(std::string_view bytes) {
  std::string out;
  do {
    const std::string_view block = bytes.substr(0, kLongestBlock);
    bytes.remove_prefix(block.size());
    out += bytes.empty() ? '\x01' : '\x00';
    append16(out, block.size());
    append16(out, ~block.size());
    out += block;
  } while (!bytes.empty());
  return out;
}

// What the local header and the directory say alike.
std::string description(const ZipEntry& entry, const std::string& data) {
  std::string out;
  append16(out, 20);
  append16(out, entry.encrypted ? 1 : 0);
  append16(out, entry.method);
  append32(out, 0);
  append32(out, checksum(entry.content));
  append32(out, data.size());
  append32(out, entry.declared_size.value_or(static_cast<std::uint32_t>(entry.content.size())));
  append16(out, entry.name.size());
  append16(out, 0);
  return out;
}

}  // namespace

std::string zip_archive(const std::vector<ZipEntry>& entries) {
  std::string archive;
  std::string directory;
  for (const ZipEntry& entry : entries) {
    const std::string data = entry.method == kDeflate ? deflated(entry.content) : entry.content;
    const std::string about = description(entry, data);
    directory += "PK\x01\x02";
    append16(directory, 20);
    directory += about;
    directory.append(10, '\0');  // no comment, first disk, no attributes
    append32(directory, archive.size());
    directory += entry.name;
    archive += "PK\x03\x04" + about + entry.name + data;
  }
  const std::size_t start = archive.size();
  archive += directory + "PK\x05\x06";
  append32(archive, 0);
  append16(archive, entries.size());
  append16(archive, entries.size());
  append32(archive, directory.size());
  append32(archive, start);
  append16(archive, 0);
  return archive;
}

ZipEntry container_naming(const std::vector<std::string>& paths) {
  std::string list;
  for (const std::string& path : paths) {
    list += "<rootfile full-path=\"" + path +
            "\" media-type=\"application/vnd.recordare.musicxml+xml\"/>";
  }
  return {"META-INF/container.xml",
          "<?xml version=\"1.0\"?><container><rootfiles>" + list + "</rootfiles></container>"};
}

}  // namespace yubifu::musicxml
