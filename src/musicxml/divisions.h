// The divisions of a quarter in which MusicXML counts.
#pragma once

#include <cstdint>

namespace yubifu::musicxml {

/// More of them are neither read nor written: products of two such numbers still fit 64 bits.
inline constexpr std::int64_t kMostDivisions = 1'000'000'000;

/// From this number on some programs read divisions wrongly: MIDI's ticks have 14 bits.
inline constexpr std::int64_t kManyDivisions = 16'383;

}  // namespace yubifu::musicxml
