// Flute files for tests: those of examples/, and the two measured pipes that stand beside this
// header because a reader of the examples could take their readings for advice.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace yubifu::tests {

/// The path of a flute file by its name.
inline std::string flute_file(const std::string& name) {
  const std::filesystem::path root(YUBIFU_SOURCE_DIR);
  const std::filesystem::path measured = root / "tests/support/flutes" / name;
  return exists(measured) ? measured.string() : (root / "examples/flutes" / name).string();
}

/// The names of all of them.
inline std::vector<std::string> flute_file_names() {
  std::vector<std::string> names;
  for (const char* folder : {"tests/support/flutes", "examples/flutes"}) {
    const std::filesystem::path path = std::filesystem::path(YUBIFU_SOURCE_DIR) / folder;
    for (const auto& file : std::filesystem::directory_iterator(path)) {
      names.push_back(file.path().filename().string());
    }
  }
  return names;
}

}  // namespace yubifu::tests
