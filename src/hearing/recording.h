// A recording as samples, read a piece at a time (libsndfile: WAV, FLAC, Ogg and others).
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/file.h"

namespace yubifu::hearing {

/// Sample rates that are taken, a second.
inline constexpr int kLowestRate = 8'000;
inline constexpr int kHighestRate = 192'000;
inline constexpr int kMostChannels = 32;

/// An open recording. Reads at the place where the last reading ended.
class Recording {
 public:
  /// Opens what `bytes` hold. Reports `recording-format` for what is no recording and for rates
  /// and channels beyond the limits above, `recording-silent` for one without samples.
  static base::Outcome<Recording> open(base::ByteSource bytes);

  Recording(Recording&&) noexcept;
  Recording& operator=(Recording&&) noexcept;
  ~Recording();

  int rate() const;
  std::size_t channels() const;
  /// As the file says; what it holds may be less.
  std::uint64_t frames() const;

  /// Replaces the content by up to `frames` samples of each channel, in turn; empty at the end.
  /// What is no number in the file is 0, what is out of [-8, 8] is cut.
  void read(std::vector<float>& samples, std::size_t frames);

  /// To the first sample.
  void rewind();

 private:
  struct Parts;
  explicit Recording(std::unique_ptr<Parts> parts);
  std::unique_ptr<Parts> parts_;
};

}  // namespace yubifu::hearing
