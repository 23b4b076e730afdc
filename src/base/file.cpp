#include "base/file.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <memory>
#include <system_error>
#include <utility>
#include <vector>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/message.h"
#include "base/rules.h"
#include "base/word_table.h"

namespace yubifu::base {
namespace {

// Closes on every way out; standard input, output and errors stay open.
class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd_ > STDERR_FILENO) ::close(fd_);
  }

  int get() const { return fd_; }
  bool valid() const { return fd_ >= 0; }

 private:
  int fd_;
};

// False with errno set when a write fails; a short write is continued.
bool write_all(int fd, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(fd, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
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

constexpr int kMostNames = 1000;

// Makes a file with a hidden name that no other has; the mask of the process narrows `mode`.
// Below zero with errno set when it cannot.
int opened(const std::string& folder, mode_t mode, std::string& name) {
  for (int i = 0; i < kMostNames; ++i) {
    name = fmt::format("{}/.yubifu-{}-{}", folder, ::getpid(), i);
    const int fd = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (fd >= 0 || errno != EEXIST) return fd;
  }
  return -1;
}

// What systems say most often, for the catalogue.
[[maybe_unused]] constexpr std::array kReasons{catalogued("No such file or directory"),
                                               catalogued("Permission denied"),
                                               catalogued("Is a directory"),
                                               catalogued("Not a directory"),
                                               catalogued("No space left on device"),
                                               catalogued("Read-only file system"),
                                               catalogued("File name too long"),
                                               catalogued("Input/output error")};

std::string reason() {
  return translated(std::string_view(std::strerror(errno)));
}

constexpr std::size_t kMostNeighbours = 10'000;

// For a name that is not there: one like it in the same folder.
std::string name_meant(const std::string& path) {
  const std::filesystem::path wanted(path);
  const std::filesystem::path folder = wanted.has_parent_path() ? wanted.parent_path() : ".";
  std::vector<std::string> names;
  std::error_code error;
  for (auto entry = std::filesystem::directory_iterator(folder, error);
       !error && entry != std::filesystem::directory_iterator() && names.size() < kMostNeighbours;
       entry.increment(error)) {
    names.push_back(entry->path().filename().string());
  }
  std::sort(names.begin(), names.end());
  const auto near = nearest_word(wanted.filename().string(),
                                 std::vector<std::string_view>(names.begin(), names.end()));
  if (!near) return {};
  return message("did you mean {}?", (wanted.parent_path() / *near).string());
}

Outcome<std::string> unreadable(std::string why, std::string hint = {}) {
  return {std::nullopt,
          {report(rule::unreadable_file, std::nullopt, message("cannot read this: {}", why),
                  std::move(hint))}};
}

Outcome<std::string> too_large() {
  return {std::nullopt,
          {report(rule::input_too_large, std::nullopt,
                  message("the input is larger than {} MiB", kMostInputBytes >> 20))}};
}

Diagnostics unwritable(std::string why,
                       std::string hint = message(
                           "choose another place with -o; an existing file was left as it was")) {
  return {report(rule::unwritable_file, std::nullopt, message("cannot write this: {}", why),
                 std::move(hint))};
}

Diagnostics write_beside_and_rename(const std::string& path, std::string_view bytes) {
  struct stat old {};
  const bool replaces = ::stat(path.c_str(), &old) == 0;
  const mode_t mode = replaces ? old.st_mode & 07777 : 0666;
  const std::filesystem::path folder = std::filesystem::path(path).parent_path();
  const SignalsWait quiet;
  std::string hidden;
  const Descriptor file(opened(folder.empty() ? std::string(".") : folder.string(), mode, hidden));
  if (!file.valid()) return unwritable(reason());
  // An old file keeps its permissions whatever the mask of the process.
  if (write_all(file.get(), bytes) && ::fsync(file.get()) == 0 &&
      (!replaces || ::fchmod(file.get(), mode) == 0) &&
      ::rename(hidden.c_str(), path.c_str()) == 0) {
    return {};
  }
  Diagnostics failed = unwritable(reason());
  ::unlink(hidden.c_str());
  return failed;
}

}  // namespace

Outcome<std::string> read_file(const std::string& path) {
  const Descriptor in(path == "-" ? STDIN_FILENO : ::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (!in.valid()) {
    const bool missing = errno == ENOENT;
    return unreadable(reason(), missing ? name_meant(path) : std::string());
  }
  struct stat about {};
  const bool known = ::fstat(in.get(), &about) == 0;
  if (known && S_ISDIR(about.st_mode)) return unreadable(message("it is a folder"));
  std::string bytes;
  if (known && S_ISREG(about.st_mode)) {
    const auto size = static_cast<std::size_t>(about.st_size);
    if (size > kMostInputBytes) return too_large();
    bytes.reserve(size);
  }
  std::array<char, 1 << 16> buffer;
  while (true) {
    const ssize_t count = ::read(in.get(), buffer.data(), buffer.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return unreadable(reason());
    if (count == 0) return {std::move(bytes), {}};
    bytes.append(buffer.data(), static_cast<std::size_t>(count));
    if (bytes.size() > kMostInputBytes) return too_large();
  }
}

ByteSource bytes_of(std::string held) {
  const auto bytes = std::make_shared<const std::string>(std::move(held));
  return {bytes->size(), [bytes](std::uint64_t offset, char* to, std::size_t count) {
            if (offset >= bytes->size()) return std::size_t{0};
            return bytes->copy(to, count, static_cast<std::size_t>(offset));
          }};
}

Outcome<ByteSource> open_file(const std::string& path) {
  struct stat about {};
  if (path == "-" || ::stat(path.c_str(), &about) != 0 || !S_ISREG(about.st_mode)) {
    auto held = read_file(path);
    if (!held.value) return {std::nullopt, std::move(held.diagnostics)};
    return {bytes_of(*std::move(held.value)), {}};
  }
  const auto file = std::make_shared<const Descriptor>(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (!file->valid() || ::fstat(file->get(), &about) != 0) {
    return {std::nullopt, unreadable(reason()).diagnostics};
  }
  const auto read = [file](std::uint64_t offset, char* to, std::size_t count) {
    std::size_t done = 0;
    while (done < count) {
      const ssize_t got =
          ::pread(file->get(), to + done, count - done, static_cast<off_t>(offset + done));
      if (got < 0 && errno == EINTR) continue;
      if (got <= 0) break;
      done += static_cast<std::size_t>(got);
    }
    return done;
  };
  return {ByteSource{static_cast<std::uint64_t>(about.st_size), read}, {}};
}

Diagnostics write_file(const std::string& path, std::string_view bytes) {
  if (path == "-") {
    // Who closes a pipe has read enough (as `head` has): nothing is wrong.
    if (write_all(STDOUT_FILENO, bytes) || errno == EPIPE) return {};
    return unwritable(reason(), {});
  }
  struct stat link {};
  if (::lstat(path.c_str(), &link) != 0) return write_beside_and_rename(path, bytes);
  struct stat target {};
  if (::stat(path.c_str(), &target) != 0) {
    return unwritable(message("it is a link that leads nowhere"));
  }
  if (S_ISDIR(target.st_mode)) return unwritable(message("it is a folder"));
  // A device or a pipe cannot be replaced by a rename, and need not have a name that can be found.
  if (!S_ISREG(target.st_mode)) {
    const Descriptor out(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
    return out.valid() && write_all(out.get(), bytes) ? Diagnostics{} : unwritable(reason());
  }
  if (!S_ISLNK(link.st_mode)) return write_beside_and_rename(path, bytes);
  std::error_code error;
  const auto found = std::filesystem::canonical(path, error);
  if (error) return unwritable(message("it is a link that leads nowhere"));
  return write_beside_and_rename(found.string(), bytes);
}

}  // namespace yubifu::base
