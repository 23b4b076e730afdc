// How periodic a short frame of sound is at each lag: what tells a tone from noise, and roughly how
// high it is.
#pragma once

#include <memory>
#include <optional>
#include <span>

namespace yubifu::hearing {

/// The tones that are looked for, in Hz: the deepest flute in use sounds 290 Hz with all holes
/// closed, the third register of the smallest reaches 4,200 Hz.
inline constexpr double kLowestHz = 190;
inline constexpr double kHighestHz = 4700;

/// What a frame of sound shows.
struct FramePitch {
  double hz = 0;
  double clarity = 0;  ///< 1 for a pure period, 0 for noise
};

/// Judges frames of one length at one sample rate.
class FrameAnalyser {
 public:
  /// `rate` in samples a second.
  explicit FrameAnalyser(double rate);
  FrameAnalyser(FrameAnalyser&&) noexcept;
  FrameAnalyser& operator=(FrameAnalyser&&) noexcept;
  ~FrameAnalyser();

  /// Samples in a frame, 40 ms.
  std::size_t frame_length() const;

  /// The shortest lag at which the frame repeats itself about as well as at any other; nothing for
  /// a frame without a period between the tones that are looked for.
  std::optional<FramePitch> pitch_of(std::span<const float> frame);

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace yubifu::hearing
