#include "support/played.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <random>
#include <utility>

namespace yubifu::support {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kStartSeconds = 0.3;
constexpr double kEdgeSeconds = 0.03;

// Sums of uniform numbers, the same on every machine.
class Noise {
 public:
  explicit Noise(std::uint64_t seed) : random_(seed) {}

  double uniform() { return static_cast<double>(random_() >> 11) * 0x1p-53; }

  double normal() {
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += uniform();
    return sum;
  }

 private:
  std::mt19937_64 random_;
};

void add_tone(std::vector<float>& samples, const PlayedTone& tone, int rate, Noise& noise) {
  const auto count = static_cast<std::size_t>(tone.seconds * rate);
  double turns = noise.uniform();
  const double vibrato_at = noise.uniform();
  for (std::size_t i = 0; i < count; ++i) {
    const double seconds = static_cast<double>(i) / rate;
    const double cents = tone.vibrato_cents * std::sin(kTurn * (5 * seconds + vibrato_at)) +
                         tone.drift_cents * (seconds / tone.seconds - 0.5);
    turns += tone.hz * std::exp2(cents / 1200) / rate;
    double value = 0;
    for (std::size_t k = 0; k < tone.partials.size(); ++k) {
      const double order = static_cast<double>(k + 1);
      if (order * tone.hz * 1.05 < rate / 2.0) {
        value += tone.partials[k] * std::sin(kTurn * std::fmod(order * turns, 1) + order);
      }
    }
    const double edge =
        std::min({1.0, seconds / kEdgeSeconds, (tone.seconds - seconds) / kEdgeSeconds});
    samples.push_back(static_cast<float>(tone.level * edge * value));
  }
}

void add_silence(std::vector<float>& samples, double seconds, int rate) {
  samples.insert(samples.end(), static_cast<std::size_t>(seconds * rate), 0.0F);
}

void append_number(std::string& bytes, std::uint32_t value, int size) {
  for (int i = 0; i < size; ++i) bytes += static_cast<char>(value >> (8 * i) & 0xFF);
}

}  // namespace

std::vector<double> weak_fundamental() {
  return {0.45 * std::pow(10, -0.5), 0.45, 0.28, 0.12, 0.07, 0.04};
}

std::vector<float> played(const std::vector<PlayedTone>& tones, const Room& room) {
  Noise noise(room.seed);
  std::vector<float> samples;
  add_silence(samples, kStartSeconds, room.rate);
  for (const PlayedTone& tone : tones) {
    add_tone(samples, tone, room.rate, noise);
    add_silence(samples, tone.silence, room.rate);
  }
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double at = 50.0 * static_cast<double>(i) / room.rate;
    double beside = room.hum == 0
                        ? 0
                        : room.hum * (std::sin(kTurn * at) + 0.5 * std::sin(kTurn * 2 * at) +
                                      0.2 * std::sin(kTurn * 5 * at));
    if (room.noise > 0) beside += room.noise * noise.normal();
    samples[i] += static_cast<float>(beside);
  }
  for (int i = 0; i < room.clicks; ++i) {
    const auto at = static_cast<std::size_t>(noise.uniform() * static_cast<double>(samples.size()));
    samples[std::min(at, samples.size() - 1)] = 0.9F;
  }
  return samples;
}

std::string wav_of(const std::vector<float>& samples, int rate, int channels) {
  std::vector<float> in_turn;
  for (const float sample : samples) {
    in_turn.insert(in_turn.end(), static_cast<std::size_t>(channels), sample);
  }
  return wav_of_channels(in_turn, rate, channels);
}

// RIFF WAVE, format 1 (Microsoft and IBM, Multimedia Programming Interface 1.0).
std::string wav_of_channels(const std::vector<float>& in_turn, int rate, int channels) {
  const auto size = static_cast<std::uint32_t>(in_turn.size() * 2);
  std::string bytes = "RIFF";
  append_number(bytes, 36 + size, 4);
  bytes += "WAVEfmt ";
  append_number(bytes, 16, 4);
  append_number(bytes, 1, 2);
  append_number(bytes, static_cast<std::uint32_t>(channels), 2);
  append_number(bytes, static_cast<std::uint32_t>(rate), 4);
  append_number(bytes, static_cast<std::uint32_t>(rate * channels * 2), 4);
  append_number(bytes, static_cast<std::uint32_t>(channels * 2), 2);
  append_number(bytes, 16, 2);
  bytes += "data";
  append_number(bytes, size, 4);
  for (const float sample : in_turn) {
    const auto value = static_cast<int>(std::lround(std::clamp(sample, -1.0F, 1.0F) * 32767));
    append_number(bytes, static_cast<std::uint32_t>(value), 2);
  }
  return bytes;
}

double cents_between(double from_hz, double to_hz) {
  return 1200 * std::log2(to_hz / from_hz);
}

}  // namespace yubifu::support
