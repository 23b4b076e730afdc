#include "cli/found_files.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "base/message.h"
#include "base/rules.h"
#include "cli/rules.h"

namespace yubifu::cli {
namespace {

namespace fs = std::filesystem;
using base::message;

FoundFile unreadable(const fs::path& path, std::string why) {
  return {path.string(), FoundBy::folder,
          base::report(base::rule::unreadable_file, std::nullopt, std::move(why))};
}

// Walks one folder and those in it, with a list of our own: an unreadable one ends nothing.
std::vector<FoundFile> files_in(const fs::path& top, bool (*is_wanted)(const std::string& path)) {
  std::vector<fs::path> folders{top};
  std::vector<FoundFile> found;
  const auto take = [&](const fs::directory_entry& entry) {
    // What the folder itself says of its entries is not asked for again: only links are followed.
    std::error_code failure;
    const fs::path& path = entry.path();
    const bool is_link = entry.is_symlink(failure);
    if (is_link && !entry.exists(failure)) {
      found.push_back(unreadable(path, message("this link leads nowhere")));
    } else if (is_link && entry.is_directory(failure)) {
      found.push_back({path.string(), FoundBy::folder,
                       base::report(rule::link_to_folder, std::nullopt,
                                    message("this link to a folder is not followed"),
                                    message("name the folder itself as well"))});
    } else if (entry.is_directory(failure)) {
      folders.push_back(path);
    } else if (is_wanted(path.string())) {
      found.push_back(entry.is_regular_file(failure)
                          ? FoundFile{path.string(), FoundBy::folder, std::nullopt}
                          : unreadable(path, message("this is not a file")));
    }
  };
  while (!folders.empty()) {
    const fs::path folder = std::move(folders.back());
    folders.pop_back();
    std::error_code failure;
    fs::directory_iterator entries(folder, failure);
    for (; !failure && entries != fs::directory_iterator(); entries.increment(failure)) {
      const bool is_hidden = entries->path().filename().string().starts_with('.');
      if (!is_hidden) take(*entries);
    }
    if (failure) {
      found.push_back(
          unreadable(folder, message("this folder cannot be read: {}", failure.message())));
    }
  }
  std::sort(found.begin(), found.end(),
            [](const FoundFile& a, const FoundFile& b) { return a.path < b.path; });
  return found;
}

}  // namespace

std::vector<FoundFile> find_files(const std::vector<std::string>& names,
                                  bool (*is_wanted)(const std::string& path)) {
  std::vector<FoundFile> all;
  for (const std::string& name : names) {
    std::error_code failure;
    if (name == "-" || !fs::is_directory(name, failure)) {
      all.push_back({name, FoundBy::name, std::nullopt});
      continue;
    }
    std::vector<FoundFile> inside = files_in(name, is_wanted);
    if (inside.empty()) {
      all.push_back({name, FoundBy::name,
                     base::report(rule::nothing_to_check, std::nullopt,
                                  message("no file in this folder has a known format"))});
    }
    all.insert(all.end(), inside.begin(), inside.end());
  }
  return all;
}

}  // namespace yubifu::cli
