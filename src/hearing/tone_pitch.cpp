#include "hearing/tone_pitch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <vector>

#include "hearing/spectrum.h"
#include "model/pitch.h"

namespace yubifu::hearing {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

constexpr double kHighestTrackedHz = 10'000;

std::vector<double> hann(std::size_t length) {
  std::vector<double> window(length);
  for (std::size_t i = 0; i < length; ++i) {
    const double turn = (static_cast<double>(i) + 0.5) / static_cast<double>(length);
    window[i] = 0.5 - 0.5 * std::cos(2 * pi * turn);
  }
  return window;
}

// How samples are looked at: through windows of some length, one a hop.
struct Windows {
  double rate;
  std::size_t length;
  std::size_t hop;

  std::size_t count(std::size_t samples) const {
    return samples < length ? 0 : (samples - length) / hop + 1;
  }
  double hop_seconds() const { return static_cast<double>(hop) / rate; }
};

Windows windows_of(double rate, double seconds, double hop_seconds) {
  return {rate, std::max<std::size_t>(8, static_cast<std::size_t>(rate * seconds)),
          std::max<std::size_t>(1, static_cast<std::size_t>(rate * hop_seconds))};
}

// Amplitude and phase of what sounds near `hz` in each window, against a tone of just that height.
std::vector<Complex> followed(std::span<const float> samples, const Windows& windows, double hz) {
  const double turn = 2 * pi * hz / windows.rate;
  const std::vector<double> hann_window = hann(windows.length);
  std::vector<Complex> probe(windows.length);
  for (std::size_t i = 0; i < probe.size(); ++i) {
    probe[i] = std::polar(2 * hann_window[i] / static_cast<double>(windows.length) * 2,
                          -turn * static_cast<double>(i));
  }
  std::vector<Complex> values(windows.count(samples.size()));
  for (std::size_t m = 0; m < values.size(); ++m) {
    const float* from = samples.data() + m * windows.hop;
    double real = 0;
    double imaginary = 0;
    for (std::size_t i = 0; i < probe.size(); ++i) {
      const double sample = from[i];
      real += sample * probe[i].real();
      imaginary += sample * probe[i].imag();
    }
    values[m] = Complex(real, imaginary) *
                std::polar(1.0, -std::fmod(turn * static_cast<double>(m * windows.hop), 2 * pi));
  }
  return values;
}

double mean_power(const std::vector<Complex>& values) {
  double sum = 0;
  for (const Complex& value : values) sum += std::norm(value);
  return values.empty() ? 0 : sum / static_cast<double>(values.size());
}

std::size_t partials_under(double hz, double rate, std::size_t most) {
  return std::min(most, static_cast<std::size_t>(std::min(0.45 * rate, kHighestTrackedHz) / hz));
}

// Of the power that stands at multiples of `hz` over the noise between them, the share of the odd
// ones: what a tone of this height has and its octave has not.
struct OddShare {
  double likely = 0;
  double least = 0;  // what is left when chance has made the most of the noise
};

OddShare odd_share(std::span<const float> samples, double rate, double hz) {
  constexpr std::size_t kMostLines = 16;
  constexpr double kChance = 4;  // standard deviations
  const Windows windows = windows_of(rate, std::max(0.02, 8 / hz), std::max(0.01, 4 / hz));
  const auto power = [&](double at) { return mean_power(followed(samples, windows, at)); };
  const std::size_t lines = partials_under(hz, rate, kMostLines);
  const auto looks = static_cast<double>(windows.count(samples.size()));
  std::array<double, 2> sums{};
  double variance = 0;
  double noise_under = power(0.5 * hz);
  for (std::size_t line = 1; line <= lines; ++line) {
    const double noise_over = power((static_cast<double>(line) + 0.5) * hz);
    const double noise = 0.5 * (noise_under + noise_over);
    sums[line % 2] += power(static_cast<double>(line) * hz) - noise;
    if (line % 2 == 1) variance += 1.5 * noise * noise / looks;
    noise_under = noise_over;
  }
  const double odd = std::max(0.0, sums[1]);
  const double all = odd + std::max(0.0, sums[0]);
  if (!(all > 0)) return {};
  return {odd / all, std::max(0.0, odd - kChance * std::sqrt(variance)) / all};
}

// Shares of the odd partials: in breath and room less than the first is nothing, more than the last
// is a tone; at the middle one the scales are even.
constexpr double kSurelyAbsent = 0.004;
constexpr double kEven = 0.02;
constexpr double kSurelyThere = 0.06;

struct Octave {
  double hz;
  OctaveDoubt doubt;
};

Octave octave_of(std::span<const float> samples, double rate, double about_hz) {
  double hz = about_hz;
  OddShare here = odd_share(samples, rate, hz);
  OddShare below = odd_share(samples, rate, hz / 2);
  if (here.likely < kEven && 2 * hz <= kHighestHz) {
    hz *= 2;
    below = here;
    here = odd_share(samples, rate, hz);
  } else if (below.least > kEven && hz / 2 >= kLowestHz) {
    hz /= 2;
    here = below;
    below = odd_share(samples, rate, hz / 2);
  }
  if (2 * hz <= kHighestHz && here.least < kSurelyThere) return {hz, OctaveDoubt::maybe_higher};
  if (hz / 2 >= kLowestHz && below.least > kSurelyAbsent) return {hz, OctaveDoubt::maybe_lower};
  return {hz, OctaveDoubt::none};
}

// The pitch of a tone at each hop, in cents from a reference.
struct Course {
  std::vector<double> cents;
  double hop_seconds;
};

// Each partial votes by its phase advance: one k times as high shows the pitch k times as sharply,
// and a loud one stands clear of the noise.
Course course_of(std::span<const float> samples, double rate, double hz) {
  constexpr std::size_t kMostPartials = 6;
  constexpr double kHopSeconds = 0.0025;
  constexpr double kOverNoise = 6;
  const Windows windows = windows_of(rate, std::clamp(8 / hz, 0.01, 0.03), kHopSeconds);
  const std::size_t count = windows.count(samples.size());
  Course course{{}, windows.hop_seconds()};
  if (count < 2) return course;
  course.cents.assign(count - 1, 0);
  std::vector<double> weights(count - 1, 0);
  const std::size_t partials = std::max<std::size_t>(1, partials_under(hz, rate, kMostPartials));
  for (std::size_t k = 1; k <= partials; ++k) {
    const double order = static_cast<double>(k);
    const std::vector<Complex> values = followed(samples, windows, order * hz);
    const double noise = mean_power(followed(samples, windows, (order - 0.5) * hz));
    if (mean_power(values) < kOverNoise * noise) continue;
    for (std::size_t m = 0; m + 1 < count; ++m) {
      const Complex step = values[m + 1] * std::conj(values[m]);
      const double beside_hz = std::arg(step) / (2 * pi * course.hop_seconds);
      const double weight = order * order * std::abs(step);
      course.cents[m] +=
          weight * model::cents_between(1, std::max(0.5, 1 + beside_hz / (order * hz)));
      weights[m] += weight;
    }
  }
  for (std::size_t m = 0; m < weights.size(); ++m) {
    if (!(weights[m] > 0)) return {{}, course.hop_seconds};
    course.cents[m] /= weights[m];
  }
  return course;
}

// A course as a line and perhaps a vibrato: the height in the middle, the slope over the whole
// length, and the two parts of the swing.
struct Shape {
  std::array<double, 4> parts{};
  double unexplained = 0;  // weighted mean square
};

// Solves for the parts, so many of them, that leave the least square; the ends count little.
Shape fitted(const std::vector<double>& course, std::size_t parts, double turns) {
  const std::size_t count = course.size();
  const std::vector<double> weights = hann(count);
  const auto basis = [&](std::size_t m) {
    const double at = (static_cast<double>(m) + 0.5) / static_cast<double>(count) - 0.5;
    return std::array{1.0, at, std::cos(2 * pi * turns * at), std::sin(2 * pi * turns * at)};
  };
  std::array<std::array<double, 5>, 4> rows{};
  for (std::size_t m = 0; m < count; ++m) {
    const auto values = basis(m);
    for (std::size_t i = 0; i < parts; ++i) {
      for (std::size_t j = 0; j < parts; ++j) rows[i][j] += weights[m] * values[i] * values[j];
      rows[i][4] += weights[m] * values[i] * course[m];
    }
  }
  for (std::size_t i = 0; i < parts; ++i) {
    for (std::size_t other = 0; other < parts; ++other) {
      if (other == i) continue;
      const double factor = rows[other][i] / rows[i][i];
      for (std::size_t j = i; j < 5; ++j) rows[other][j] -= factor * rows[i][j];
    }
  }
  Shape shape;
  for (std::size_t i = 0; i < parts; ++i) shape.parts[i] = rows[i][4] / rows[i][i];
  double all = 0;
  for (std::size_t m = 0; m < count; ++m) {
    const auto values = basis(m);
    double rest = course[m];
    for (std::size_t i = 0; i < parts; ++i) rest -= shape.parts[i] * values[i];
    shape.unexplained += weights[m] * rest * rest;
    all += weights[m];
  }
  shape.unexplained /= all;
  return shape;
}

// The shape without a vibrato, or with the one that explains most of the unrest.
Shape shape_of(const Course& course) {
  constexpr double kSlowest = 3.5;  // swings a second
  constexpr double kFastest = 9;
  constexpr double kLeastTurns = 1.2;  // fewer cannot be told from a drift
  constexpr double kExplained = 0.5;
  const Shape plain = fitted(course.cents, 2, 0);
  const double seconds = course.hop_seconds * static_cast<double>(course.cents.size());
  Shape best = plain;
  for (double a_second = kSlowest; a_second <= kFastest; a_second += 0.1) {
    if (a_second * seconds < kLeastTurns) continue;
    const Shape with = fitted(course.cents, 4, a_second * seconds);
    if (with.unexplained < best.unexplained) best = with;
  }
  return best.unexplained < (1 - kExplained) * plain.unexplained ? best : plain;
}

std::vector<double> smoothed(const std::vector<double>& values, std::size_t width) {
  std::vector<double> means;
  if (width == 0 || values.size() < width) return means;
  double sum = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    sum += values[i];
    if (i >= width) sum -= values[i - width];
    if (i + 1 >= width) means.push_back(sum / static_cast<double>(width));
  }
  return means;
}

}  // namespace

std::optional<TonePitch> pitch_of_tone(std::span<const float> samples, double rate,
                                       double about_hz) {
  constexpr double kSmoothSeconds = 0.05;
  const Octave octave = octave_of(samples, rate, about_hz);
  TonePitch pitch;
  pitch.hz = octave.hz;
  pitch.octave = octave.doubt;
  // Twice: the second time the windows stand where the pitch really is.
  Course course;
  Shape shape;
  for (int round = 0; round < 2; ++round) {
    course = course_of(samples, rate, pitch.hz);
    if (course.cents.size() < 8) return std::nullopt;
    shape = shape_of(course);
    pitch.hz *= std::exp2(shape.parts[0] / model::kOctaveCents);
  }
  pitch.drift_cents = shape.parts[1];
  const std::size_t width =
      std::max<std::size_t>(1, static_cast<std::size_t>(kSmoothSeconds / course.hop_seconds));
  const auto calm = smoothed(course.cents, std::min(width, course.cents.size() / 4));
  const double rest = fitted(calm, 2, 0).unexplained;
  pitch.spread_cents = std::sqrt(rest);
  const double seconds = course.hop_seconds * static_cast<double>(course.cents.size());
  const double unrest = std::min(rest, shape_of({calm, course.hop_seconds}).unexplained);
  pitch.error_cents = std::sqrt(unrest * kSmoothSeconds / seconds);
  return pitch;
}

}  // namespace yubifu::hearing
