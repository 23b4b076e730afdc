#include "hearing/recording.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include <sndfile.h>

#include "base/message.h"
#include "hearing/rules.h"

namespace yubifu::hearing {

// Where libsndfile stands in the bytes.
struct Cursor {
  base::ByteSource bytes;
  sf_count_t at = 0;
};

struct CloseFile {
  void operator()(SNDFILE* file) const { sf_close(file); }
};

namespace {

using base::message;

constexpr float kLoudest = 8;

sf_count_t length_of(void* user) {
  return static_cast<sf_count_t>(static_cast<Cursor*>(user)->bytes.size);
}

sf_count_t seek(sf_count_t offset, int whence, void* user) {
  auto* cursor = static_cast<Cursor*>(user);
  if (whence == SEEK_CUR) offset += cursor->at;
  if (whence == SEEK_END) offset += length_of(user);
  cursor->at = std::clamp<sf_count_t>(offset, 0, length_of(user));
  return cursor->at;
}

sf_count_t read_bytes(void* to, sf_count_t count, void* user) {
  auto* cursor = static_cast<Cursor*>(user);
  const auto wanted = std::clamp<sf_count_t>(count, 0, length_of(user) - cursor->at);
  const auto got = static_cast<sf_count_t>(
      cursor->bytes.read(static_cast<std::uint64_t>(cursor->at), static_cast<char*>(to),
                         static_cast<std::size_t>(wanted)));
  cursor->at += got;
  return got;
}

sf_count_t tell(void* user) {
  return static_cast<Cursor*>(user)->at;
}

base::Outcome<Recording> refused(const base::Rule& rule, std::string text, std::string hint) {
  return {std::nullopt, {base::report(rule, std::nullopt, std::move(text), std::move(hint))}};
}

}  // namespace

struct Recording::Parts {
  Cursor cursor;
  SF_INFO info{};
  std::unique_ptr<SNDFILE, CloseFile> file;
};

Recording::Recording(std::unique_ptr<Parts> parts) : parts_(std::move(parts)) {}
Recording::Recording(Recording&&) noexcept = default;
Recording& Recording::operator=(Recording&&) noexcept = default;
Recording::~Recording() = default;

base::Outcome<Recording> Recording::open(base::ByteSource bytes) {
  if (bytes.size == 0) {
    return refused(rule::recording_silent, message("the recording is empty"),
                   message("record the flute once more"));
  }
  auto parts = std::make_unique<Parts>();
  parts->cursor.bytes = std::move(bytes);
  SF_VIRTUAL_IO access{length_of, seek, read_bytes, nullptr, tell};
  parts->file.reset(sf_open_virtual(&access, SFM_READ, &parts->info, &parts->cursor));
  if (parts->file == nullptr) {
    return refused(rule::recording_format, message("this is no recording that can be read"),
                   message("save it as WAV, FLAC or Ogg"));
  }
  const SF_INFO& info = parts->info;
  if (info.samplerate < kLowestRate || info.samplerate > kHighestRate) {
    return refused(rule::recording_format,
                   message("the recording has {} samples a second, and {} to {} are taken",
                           info.samplerate, kLowestRate, kHighestRate),
                   message("save it with 44,100 or 48,000"));
  }
  if (info.channels < 1 || info.channels > kMostChannels) {
    return refused(
        rule::recording_format,
        message("the recording has {} channels, more than {}", info.channels, kMostChannels),
        message("save it with one or two"));
  }
  return {Recording(std::move(parts)), {}};
}

int Recording::rate() const {
  return parts_->info.samplerate;
}

std::size_t Recording::channels() const {
  return static_cast<std::size_t>(parts_->info.channels);
}

std::uint64_t Recording::frames() const {
  return static_cast<std::uint64_t>(std::max<sf_count_t>(0, parts_->info.frames));
}

void Recording::read(std::vector<float>& samples, std::size_t frames) {
  samples.resize(frames * channels());
  const sf_count_t got =
      sf_readf_float(parts_->file.get(), samples.data(), static_cast<sf_count_t>(frames));
  samples.resize(static_cast<std::size_t>(std::max<sf_count_t>(0, got)) * channels());
  for (float& sample : samples) {
    sample = std::isfinite(sample) ? std::clamp(sample, -kLoudest, kLoudest) : 0;
  }
}

void Recording::rewind() {
  sf_seek(parts_->file.get(), 0, SEEK_SET);
}

}  // namespace yubifu::hearing
