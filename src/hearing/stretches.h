// Cuts a stream of samples into stretches of one pitch, and measures those that are held.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "hearing/listening.h"
#include "hearing/spectrum.h"
#include "hearing/tone_pitch.h"

namespace yubifu::hearing {

/// The middle one of some values, at least one.
double median(std::vector<double> values);

/// A tone must last so many seconds.
inline constexpr double kLeastToneSeconds = 0.4;

/// How a stretch is held. One that goes on is the rest of the very long one before it.
enum class Hold { steady, brief, wavering, going_on };

/// One stretch, by the seconds of the recording in which it stands. Only a steady one has more of a
/// pitch than about how high it is.
struct Tone {
  double begin = 0;
  double end = 0;
  TonePitch pitch;
  double level_db = 0;
  double clipped = 0;  ///< the share of its samples that are at full scale
  Hold hold = Hold::steady;
};

/// Takes block after block and gathers the stretches; holds a quarter of a minute at most.
class StretchFinder {
 public:
  /// A block at `sounding_db` or louder may belong to a tone.
  StretchFinder(double rate, double sounding_db);

  void take(const Block& block);

  /// The stretches that have ended since they were asked for, in order.
  std::vector<Tone> ended();

  /// The recording is over.
  void finish();

 private:
  // A piece of 40 ms; one begins with each block.
  struct Frame {
    std::size_t number = 0;
    double level_db = 0;
    std::optional<double> cents;  // from 1 Hz; none where nothing sounds
    int moved = 0;                // by so many octaves, down when positive
    double clipped = 0;
  };
  struct Stretch {
    std::vector<Frame> frames;
    bool continues;  // a tone whose first part has been measured
  };

  Frame next_frame();
  void take(Frame frame);
  double reference() const;
  bool is_other_octave() const;
  std::vector<Frame> last_frames();
  void part(const std::vector<Frame>& others);
  void close();
  void measure(std::span<const Frame> frames);
  void measure_middle(Tone& tone, std::span<const Frame> frames, double about);
  double seconds_of(const Frame& frame) const;
  void forget();

  double rate_;
  double sounding_db_;
  FrameAnalyser analyser_;
  std::size_t hop_;
  std::vector<float> held_;      // samples that may still be needed
  std::size_t held_from_ = 0;    // the number of the first, and below that of its block
  std::vector<double> clipped_;  // share of each block that is held
  std::size_t next_ = 0;         // frame
  std::optional<Stretch> stretch_;
  std::vector<Frame> pending_;  // since the last one that belongs to the stretch
  std::vector<Tone> ended_;
};

}  // namespace yubifu::hearing
