#include "hearing/spectrum.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <numbers>
#include <vector>

#include <kiss_fftr.h>

namespace yubifu::hearing {

struct FreePlan {
  void operator()(kiss_fftr_state* plan) const { kiss_fftr_free(plan); }
};
using Plan = std::unique_ptr<kiss_fftr_state, FreePlan>;

namespace {

constexpr double kFrameSeconds = 0.04;
// Where the partials of a flute still stand out of its breath.
constexpr double kHighestPartialHz = 10'000;
// Lags are looked at in steps of at most this: fine enough for a parabola through the top of a
// peak.
constexpr double kLagStepSeconds = 1.0 / 64'000;
// A lag is as good as the best when the difference function there is larger by no more than this
// (its mean is 1): half the period lies at least 0.18 higher where the fundamental is 10 dB under
// the second partial.
constexpr double kAsGood = 0.1;
constexpr double kLeastClarity = 0.5;

Plan plan_of(std::size_t size, bool inverse) {
  return Plan(kiss_fftr_alloc(static_cast<int>(size), inverse ? 1 : 0, nullptr, nullptr));
}

std::size_t fast_size(double at_least) {
  return static_cast<std::size_t>(kiss_fftr_next_fast_size_real(static_cast<int>(at_least)));
}

// The place and height of the top of the parabola through three values around `at`.
FramePitch top_of_peak(const std::vector<float>& values, std::size_t at, double lags_a_second) {
  const double left = values[at - 1];
  const double middle = values[at];
  const double right = values[at + 1];
  const double bend = left - 2 * middle + right;
  const double shift = bend < 0 ? std::clamp(0.5 * (left - right) / bend, -0.5, 0.5) : 0;
  return {lags_a_second / (static_cast<double>(at) + shift),
          middle - 0.25 * (left - right) * shift};
}

}  // namespace

struct FrameAnalyser::Parts {
  explicit Parts(double rate);
  void correlate(std::span<const float> frame, std::size_t first, std::size_t last);

  std::size_t size;  // of the transform of a frame
  std::size_t lags;  // of the transform back: one each so many parts of a sample
  double lags_a_second;
  std::size_t first_lag, last_lag, first_bin, last_bin;
  Plan forward, back;
  std::vector<float> window, window_correlation, padded, correlation;
  std::vector<kiss_fft_cpx> spectrum, power;
};

FrameAnalyser::Parts::Parts(double rate) {
  const auto frame = 2 * static_cast<std::size_t>(rate * kFrameSeconds / 2);
  size = fast_size(static_cast<double>(frame) + rate / kLowestHz + 2);
  const auto finer = static_cast<std::size_t>(std::ceil(1 / (rate * kLagStepSeconds)));
  lags = size * finer;
  lags_a_second = rate * static_cast<double>(finer);
  first_lag = static_cast<std::size_t>(lags_a_second / kHighestHz);
  last_lag = static_cast<std::size_t>(lags_a_second / kLowestHz);
  const double bins_a_hz = static_cast<double>(size) / rate;
  first_bin = static_cast<std::size_t>(kLowestHz * 0.9 * bins_a_hz);
  last_bin = std::min(size / 2, static_cast<std::size_t>(kHighestPartialHz * bins_a_hz));
  forward = plan_of(size, false);
  back = plan_of(lags, true);
  padded.assign(size, 0);
  correlation.assign(lags, 0);
  spectrum.resize(size / 2 + 1);
  power.assign(lags / 2 + 1, {0, 0});
  window.resize(frame);
  for (std::size_t i = 0; i < frame; ++i) {
    const double turn = (static_cast<double>(i) + 0.5) / static_cast<double>(frame);
    window[i] = static_cast<float>(0.5 - 0.5 * std::cos(2 * std::numbers::pi * turn));
  }
  // What the window alone takes from each lag.
  correlate(std::vector<float>(frame, 1), 0, size / 2);
  window_correlation = correlation;
  std::fill(power.begin(), power.end(), kiss_fft_cpx{0, 0});
}

// The correlation of the windowed frame with itself, as far as the bins from `first` to `last` make
// it.
void FrameAnalyser::Parts::correlate(std::span<const float> frame, std::size_t first,
                                     std::size_t last) {
  for (std::size_t i = 0; i < window.size(); ++i) padded[i] = frame[i] * window[i];
  kiss_fftr(forward.get(), padded.data(), spectrum.data());
  for (std::size_t i = first; i <= last; ++i) {
    power[i].r = spectrum[i].r * spectrum[i].r + spectrum[i].i * spectrum[i].i;
  }
  kiss_fftri(back.get(), power.data(), correlation.data());
}

FrameAnalyser::FrameAnalyser(double rate) : parts_(std::make_unique<Parts>(rate)) {}
FrameAnalyser::FrameAnalyser(FrameAnalyser&&) noexcept = default;
FrameAnalyser& FrameAnalyser::operator=(FrameAnalyser&&) noexcept = default;
FrameAnalyser::~FrameAnalyser() = default;

std::size_t FrameAnalyser::frame_length() const {
  return parts_->window.size();
}

std::optional<FramePitch> FrameAnalyser::pitch_of(std::span<const float> frame) {
  Parts& parts = *parts_;
  parts.correlate(frame, parts.first_bin, parts.last_bin);
  std::vector<float>& values = parts.correlation;
  const float whole = values[0];
  if (!(whole > 0)) return std::nullopt;
  // 1 minus the normalised difference function.
  for (std::size_t lag = 0; lag <= parts.last_lag + 1; ++lag) {
    values[lag] *= parts.window_correlation[0] / (whole * parts.window_correlation[lag]);
  }
  const auto is_peak = [&](std::size_t lag) {
    return values[lag] > values[lag - 1] && values[lag] >= values[lag + 1];
  };
  double best = 0;
  for (std::size_t lag = parts.first_lag; lag <= parts.last_lag; ++lag) {
    if (is_peak(lag)) best = std::max(best, top_of_peak(values, lag, parts.lags_a_second).clarity);
  }
  if (best < kLeastClarity) return std::nullopt;
  for (std::size_t lag = parts.first_lag; lag <= parts.last_lag; ++lag) {
    if (!is_peak(lag)) continue;
    const FramePitch found = top_of_peak(values, lag, parts.lags_a_second);
    if (found.clarity >= best - kAsGood) return found;
  }
  return std::nullopt;
}

}  // namespace yubifu::hearing
