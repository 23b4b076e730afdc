// Files and folders of a command line as a list of files.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"

namespace yubifu::cli {

/// How a file came into the list.
enum class FoundBy {
  name,    ///< the user named it
  folder,  ///< it lies in a folder that the user named
};

/// A file to work on, or why it cannot be.
struct FoundFile {
  std::string path;  ///< "-" for standard input
  FoundBy by = FoundBy::name;
  /// Why it cannot be read: a broken link, a folder without permission, no file in a folder.
  std::optional<base::Diagnostic> problem;
};

/// The files named, and for each folder the files in it and in its folders whose name `is_wanted`,
/// in the order of their paths, without hidden names. With their problem: links to folders (not
/// followed) and to nowhere, unreadable and empty folders, wanted things that are no files.
std::vector<FoundFile> find_files(const std::vector<std::string>& names,
                                  bool (*is_wanted)(const std::string& path));

}  // namespace yubifu::cli
