#include "hearing/listening.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>

namespace yubifu::hearing {
namespace {

constexpr double kCutHz = 170;
constexpr double kPlentyOfRate = 44'100;
constexpr std::size_t kFramesAtATime = 4096;
constexpr double kLeastDb = -120;
constexpr float kFullScale = 0.999F;
constexpr std::size_t kFullInARow = 3;

// In silence a filter goes on falling, down to numbers so small that processors take a hundred
// times as long for each.
double without_traces(double value) {
  constexpr double kTrace = 1e-20;
  return std::abs(value) < kTrace ? 0 : value;
}

float mixed(const std::vector<float>& samples, std::size_t frame, std::size_t channels) {
  float sum = 0;
  for (std::size_t i = 0; i < channels; ++i) sum += samples[frame * channels + i];
  return sum / static_cast<float>(channels);
}

// How many blocks had each level, in whole decibels.
class Levels {
 public:
  void add(double db) {
    ++counts_[static_cast<std::size_t>(std::clamp(db - kLeastDb, 0.0, 149.0))];
  }

  std::uint64_t total() const {
    std::uint64_t sum = 0;
    for (const std::uint64_t count : counts_) sum += count;
    return sum;
  }

  // The highest level that so many blocks stay under.
  double reached_after(std::uint64_t blocks) const {
    std::size_t level = 0;
    for (std::uint64_t below = counts_[0]; level + 1 < counts_.size() && below <= blocks;) {
      below += counts_[++level];
    }
    return kLeastDb + static_cast<double>(level);
  }

 private:
  std::array<std::uint64_t, 150> counts_{};
};

// A line with the levels of its blocks.
struct Surveyed {
  explicit Surveyed(double rate)
      : line(rate),
        block(std::max<std::size_t>(1, static_cast<std::size_t>(line.rate() * kBlockSeconds))) {}

  void pass(float sample) {
    const auto out = line.pass(sample);
    if (!out) return;
    sum += static_cast<double>(*out) * *out;
    if (++count < block) return;
    levels.add(decibels(sum / static_cast<double>(block)));
    sum = 0;
    count = 0;
  }

  double quiet_db() const { return levels.reached_after(levels.total() / 20); }
  double loud_db() const {
    constexpr std::uint64_t kBlocksOfATone = 40;
    const std::uint64_t total = levels.total();
    return levels.reached_after(total - std::min(total, kBlocksOfATone));
  }
  // How far the tones stand out of the rest. Silence made by a machine is not better than a room.
  double contrast() const { return std::min(60.0, loud_db() - std::max(-90.0, quiet_db())); }

  Line line;
  std::size_t block;
  double sum = 0;
  std::size_t count = 0;
  Levels levels;
};

}  // namespace

double decibels(double mean_square) {
  return mean_square > 0 ? std::max(kLeastDb, 10 * std::log10(mean_square)) : kLeastDb;
}

double Survey::sounding_db() const {
  constexpr double kUnderLoud = 35;  // low notes of a flute are that much quieter than high ones
  constexpr double kOverQuiet = 6;
  // A recording without a pause is loud all the time.
  return std::max(loud_db - kUnderLoud, std::min(quiet_db + kOverQuiet, loud_db - kOverQuiet));
}

Line::Line(double rate)
    : joined_(std::max<std::size_t>(1, static_cast<std::size_t>(rate / kPlentyOfRate))),
      rate_(rate / static_cast<double>(joined_)) {
  // Butterworth, fourth order, as two sections (bilinear transform).
  const std::array quality{0.541196, 1.306563};
  for (std::size_t i = 0; i < sections_.size(); ++i) {
    const double turn = 2 * std::numbers::pi * kCutHz / rate_;
    const double alpha = std::sin(turn) / (2 * quality[i]);
    const double whole = 1 + alpha;
    const double side = (1 + std::cos(turn)) / 2 / whole;
    sections_[i].factors = {side, -2 * side, side, -2 * std::cos(turn) / whole,
                            (1 - alpha) / whole};
  }
}

std::optional<float> Line::pass(float sample) {
  sum_ += sample;
  if (++gathered_ < joined_) return std::nullopt;
  double value = sum_ / static_cast<double>(joined_);
  sum_ = 0;
  gathered_ = 0;
  for (Section& section : sections_) {
    const auto& [b0, b1, b2, a1, a2] = section.factors;
    const double out = b0 * value + section.first;
    section.first = without_traces(b1 * value - a1 * out + section.second);
    section.second = without_traces(b2 * value - a2 * out);
    value = out;
  }
  return static_cast<float>(value);
}

Survey survey(Recording& recording) {
  const std::size_t channels = recording.channels();
  const double rate = recording.rate();
  // The mix stands last.
  std::vector<Surveyed> lines(channels == 1 ? 1 : channels + 1, Surveyed(rate));
  std::uint64_t frames = 0;
  std::vector<float> samples;
  for (recording.read(samples, kFramesAtATime); !samples.empty();
       recording.read(samples, kFramesAtATime)) {
    const std::size_t count = samples.size() / channels;
    frames += count;
    for (std::size_t frame = 0; frame < count; ++frame) {
      for (std::size_t i = 0; i < channels; ++i) lines[i].pass(samples[frame * channels + i]);
      if (channels > 1) lines[channels].pass(mixed(samples, frame, channels));
    }
  }
  recording.rewind();
  constexpr double kClearer = 2;  // decibels
  std::size_t best = lines.size() - 1;
  for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
    const double least = lines[best].contrast() + (best + 1 == lines.size() ? kClearer : 0);
    if (lines[i].contrast() > least) best = i;
  }
  Survey found;
  if (best + 1 < lines.size()) found.channel = best;
  found.quiet_db = lines[best].quiet_db();
  found.loud_db = lines[best].loud_db();
  found.seconds = static_cast<double>(frames) / rate;
  return found;
}

Listener::Listener(Recording& recording, std::optional<std::size_t> channel)
    : recording_(recording), channel_(channel), line_(recording.rate()) {}

float Listener::line_sample(std::size_t frame) const {
  const std::size_t channels = recording_.channels();
  return channel_ ? read_[frame * channels + *channel_] : mixed(read_, frame, channels);
}

bool Listener::is_clipped(float sample) {
  full_ = std::abs(sample) >= kFullScale ? full_ + 1 : 0;
  return full_ >= kFullInARow;
}

void Listener::next(Block& block) {
  const auto wanted = static_cast<std::size_t>(line_.rate() * kBlockSeconds);
  block.samples.clear();
  block.clipped = 0;
  while (block.samples.size() < wanted) {
    if (at_ * recording_.channels() >= read_.size()) {
      recording_.read(read_, kFramesAtATime);
      at_ = 0;
      if (read_.empty()) return;
    }
    const float sample = line_sample(at_++);
    if (is_clipped(sample)) ++block.clipped;
    if (const auto out = line_.pass(sample)) block.samples.push_back(*out);
  }
}

}  // namespace yubifu::hearing
