// One line of samples out of a recording: the channels mixed, or the one that is clearer, without
// the rumble and hum under the deepest flute.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "hearing/recording.h"

namespace yubifu::hearing {

/// Blocks of so many seconds are what levels are told of and what is heard at a time.
inline constexpr double kBlockSeconds = 0.01;

/// Mean square to decibels under full scale, -120 at least.
double decibels(double mean_square);

/// What a first hearing of the whole recording shows.
struct Survey {
  std::optional<std::size_t> channel;  ///< the one to listen to; none: all of them mixed
  double quiet_db = 0;                 ///< what nearly every block is louder than
  double loud_db = 0;                  ///< what blocks of 0.4 s together reach
  double seconds = 0;

  /// The level from which a block may belong to a tone.
  double sounding_db() const;
};

/// One line of samples: neighbours are joined where there are far more than a flute needs, and what
/// lies under kLowestHz is taken out.
class Line {
 public:
  explicit Line(double rate);

  double rate() const { return rate_; }

  /// Takes one sample in; gives one out when enough are joined.
  std::optional<float> pass(float sample);

 private:
  struct Section {
    std::array<double, 5> factors{};
    double first = 0;
    double second = 0;
  };

  std::size_t joined_;
  double rate_;
  std::array<Section, 2> sections_;
  double sum_ = 0;
  std::size_t gathered_ = 0;
};

/// Hears the recording once from its beginning to its end, and rewinds it.
Survey survey(Recording& recording);

/// A block of one line.
struct Block {
  std::vector<float> samples;
  std::size_t clipped = 0;  ///< samples of the recording at full scale, several in a row
};

/// Hears a recording block by block.
class Listener {
 public:
  Listener(Recording& recording, std::optional<std::size_t> channel);

  /// Samples a second in the blocks.
  double rate() const { return line_.rate(); }

  /// The next block; its samples are fewer only at the end, and then none.
  void next(Block& block);

 private:
  float line_sample(std::size_t frame) const;
  bool is_clipped(float sample);

  Recording& recording_;
  std::optional<std::size_t> channel_;
  Line line_;
  std::vector<float> read_;
  std::size_t at_ = 0;  // frame of read_
  std::size_t full_ = 0;
};

}  // namespace yubifu::hearing
