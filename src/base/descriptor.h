// Descriptors of the operating system.
#pragma once

#include <string_view>

namespace yubifu::base {

/// Closes on every way out; standard input, output and errors stay open.
class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor();

  int get() const { return fd_; }
  bool valid() const { return fd_ >= 0; }

 private:
  int fd_;
};

/// False with errno set when a write fails; a short write is continued.
bool write_all(int fd, std::string_view bytes);

}  // namespace yubifu::base
