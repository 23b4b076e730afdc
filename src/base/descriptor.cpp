#include "base/descriptor.h"

#include <cerrno>
#include <cstddef>

#include <unistd.h>

namespace yubifu::base {

Descriptor::~Descriptor() {
  if (fd_ > STDERR_FILENO) ::close(fd_);
}

bool write_all(int fd, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(fd, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

}  // namespace yubifu::base
