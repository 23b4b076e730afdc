#include "base/new_file.h"

#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <utility>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace yubifu::base {
namespace {

constexpr int kMostNames = 1000;

// Opens a file without a name, or where the file system has none such, one named `hidden`.
int opened(const std::string& folder, std::string& hidden) {
  // Such a file gets its name by way of /proc, which not every root folder has.
  if (::access("/proc/self/fd", X_OK) == 0) {
    const int unnamed = ::open(folder.c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC, 0600);
    if (unnamed >= 0 || (errno != EOPNOTSUPP && errno != EISDIR && errno != EINVAL)) return unnamed;
  }
  std::string pattern = folder + "/.yubifu-XXXXXX";
  const int named = ::mkostemp(pattern.data(), O_CLOEXEC);
  if (named >= 0) hidden = pattern;
  return named;
}

// No signal ends this thread while it lives.
class SignalsWait {
 public:
  SignalsWait() {
    sigset_t all;
    sigfillset(&all);
    pthread_sigmask(SIG_BLOCK, &all, &before_);
  }
  SignalsWait(const SignalsWait&) = delete;
  SignalsWait& operator=(const SignalsWait&) = delete;
  ~SignalsWait() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

 private:
  sigset_t before_{};
};

bool link_as(int fd, const std::string& path) {
  const std::string self = fmt::format("/proc/self/fd/{}", fd);
  return ::linkat(AT_FDCWD, self.c_str(), AT_FDCWD, path.c_str(), AT_SYMLINK_FOLLOW) == 0;
}

}  // namespace

NewFile::NewFile(const std::string& folder)
    : folder_(folder), descriptor_(opened(folder, hidden_)) {}

NewFile::~NewFile() {
  const int error = errno;
  if (!hidden_.empty()) ::unlink(hidden_.c_str());
  errno = error;
}

bool NewFile::write(std::string_view bytes) {
  return descriptor_.valid() && write_all(descriptor_.get(), bytes) &&
         ::fsync(descriptor_.get()) == 0;
}

bool NewFile::allow(unsigned mode) {
  return ::fchmod(descriptor_.get(), mode) == 0;
}

bool NewFile::place_at(const std::string& path) {
  if (hidden_.empty() && link_as(descriptor_.get(), path)) return true;
  const SignalsWait quiet;
  if (hidden_.empty() && !name_it()) return false;
  if (::rename(hidden_.c_str(), path.c_str()) != 0) return false;
  hidden_.clear();
  return true;
}

// A link cannot take the place of a file, a rename can, and needs a name for it.
bool NewFile::name_it() {
  for (int i = 0; i < kMostNames; ++i) {
    std::string name =
        fmt::format("{}/.yubifu-{}-{}-{}", folder_, ::getpid(), descriptor_.get(), i);
    if (link_as(descriptor_.get(), name)) {
      hidden_ = std::move(name);
      return true;
    }
    if (errno != EEXIST) return false;
  }
  return false;
}

}  // namespace yubifu::base
