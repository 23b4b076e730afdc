// A file that appears whole or not at all.
#pragma once

#include <string>
#include <string_view>

#include "base/descriptor.h"

namespace yubifu::base {

/// Where the file system can, it has no name before it is whole, so that whatever ends the process
/// leaves nothing behind; elsewhere it has a hidden one, which goes with this object. Every
/// function returns false with errno set when it fails.
class NewFile {
 public:
  /// Makes an empty file in a folder; when that fails, every function below does.
  explicit NewFile(const std::string& folder);
  NewFile(const NewFile&) = delete;
  NewFile& operator=(const NewFile&) = delete;
  ~NewFile();

  /// Adds bytes at its end.
  bool write(std::string_view bytes);

  /// The permissions, as chmod takes them.
  bool allow(unsigned mode);

  /// Gives it its name, in the folder it was made in; a file of that name is replaced in one step.
  bool place_at(const std::string& path);

 private:
  bool name_it();

  std::string hidden_;  // its name until it is placed; empty while it has none
  std::string folder_;
  Descriptor descriptor_;
};

}  // namespace yubifu::base
