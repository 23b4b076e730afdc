// The pitch of A4.
#pragma once

#include <optional>
#include <string_view>

namespace yubifu::model {

/// In Hz: what ensembles and historical instruments have used, and a margin (our choice).
inline constexpr double kLowestTuning = 300;
inline constexpr double kHighestTuning = 600;

/// In Hz: where nobody says another one. ISO 16.
inline constexpr double kConcertPitchHz = 440;

/// True for a pitch of A4 within these limits, in Hz.
constexpr bool is_tuning(double hertz) {
  return hertz >= kLowestTuning && hertz <= kHighestTuning;
}

/// Hertz in decimals, such as "442" or "440.5"; nothing for another text or a pitch out of range.
std::optional<double> parse_tuning(std::string_view text);

}  // namespace yubifu::model
