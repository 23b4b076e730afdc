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

FoundFile not_followed(const fs::path& path) {
  return {path.string(), FoundBy::folder,
          base::report(rule::link_to_folder, std::nullopt,
                       message("this link to a folder is not followed"),
                       message("name the folder itself as well"))};
}

bool is_hidden(const fs::path& path) {
  const std::string name = path.filename().string();
  return name.starts_with('.');
}

// Walks one folder and those in it. The stack is our own, so that one folder that cannot be read
// does not end the walk.
class Walk {
 public:
  explicit Walk(bool (*is_wanted)(const std::string& path)) : is_wanted_(is_wanted) {}

  std::vector<FoundFile> run(const fs::path& top) {
    folders_.push_back(top);
    while (!folders_.empty()) {
      const fs::path folder = std::move(folders_.back());
      folders_.pop_back();
      read_folder(folder);
    }
    std::sort(found_.begin(), found_.end(),
              [](const FoundFile& a, const FoundFile& b) { return a.path < b.path; });
    return std::move(found_);
  }

 private:
  void read_folder(const fs::path& folder) {
    std::error_code failure;
    fs::directory_iterator entries(folder, failure);
    for (; !failure && entries != fs::directory_iterator(); entries.increment(failure)) {
      if (!is_hidden(entries->path())) take(*entries);
    }
    if (failure) {
      found_.push_back(
          unreadable(folder, message("this folder cannot be read: {}", failure.message())));
    }
  }

  void take(const fs::directory_entry& entry) {
    // What the folder itself says of its entries is not asked for again: only links are followed.
    std::error_code failure;
    const bool is_link = entry.is_symlink(failure);
    if (is_link && !entry.exists(failure)) {
      found_.push_back(unreadable(entry.path(), message("this link leads nowhere")));
    } else if (entry.is_directory(failure)) {
      if (is_link) {
        found_.push_back(not_followed(entry.path()));
      } else {
        folders_.push_back(entry.path());
      }
    } else if (is_wanted_(entry.path().string())) {
      if (entry.is_regular_file(failure)) {
        found_.push_back({entry.path().string(), FoundBy::folder, std::nullopt});
      } else {
        found_.push_back(unreadable(entry.path(), message("this is not a file")));
      }
    }
  }

  bool (*is_wanted_)(const std::string& path);
  std::vector<fs::path> folders_;
  std::vector<FoundFile> found_;
};

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
    std::vector<FoundFile> inside = Walk(is_wanted).run(name);
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
