// Recordings of invented flutes, made sample by sample: what is true is what they were made from.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace yubifu::support {

/// One tone and the silence after it.
struct PlayedTone {
  double hz = 440;
  double seconds = 1;
  double silence = 0.3;
  double level = 0.2;  ///< of the fundamental, 1 is full scale
  double vibrato_cents = 0;
  double drift_cents = 0;  ///< from beginning to end
  /// Amplitudes of the partials.
  std::vector<double> partials{1, 0.45, 0.28, 0.12, 0.07, 0.04};
};

/// The partials of a tone whose fundamental is 10 dB under the second one.
std::vector<double> weak_fundamental();

/// What else is in a recording.
struct Room {
  int rate = 44'100;
  double noise = 0;  ///< amplitude: standard deviation of each sample
  double hum = 0;    ///< amplitude at 50 Hz, with its overtones
  int clicks = 0;
  std::uint64_t seed = 1;
};

/// 0.3 s of silence and the tones, as samples of one channel.
std::vector<float> played(const std::vector<PlayedTone>& tones, const Room& room = {});

/// Samples as a WAV file of 16 bits; with `channels`, each gets all of them.
std::string wav_of(const std::vector<float>& samples, int rate, int channels = 1);

/// The same with samples of each channel in turn.
std::string wav_of_channels(const std::vector<float>& in_turn, int rate, int channels);

/// From one frequency to another, in cents.
double cents_between(double from_hz, double to_hz);

}  // namespace yubifu::support
