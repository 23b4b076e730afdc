// How many rounds a property test goes, and how large the input of a test of growth is.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

namespace yubifu::support {

/// `usual`, or the percentage of it that the environment asks for in YUBIFU_ROUNDS: fewer where
/// each round is slow (sanitizers), more for a long run. At least one.
inline std::uint64_t rounds(std::uint64_t usual) {
  const char* percent = std::getenv("YUBIFU_ROUNDS");
  if (percent == nullptr) return usual;
  return std::max<std::uint64_t>(1, usual * std::strtoull(percent, nullptr, 10) / 100);
}

/// The length of an input made to show how work grows: `usual`, or what YUBIFU_SIZE says.
/// tests/bench/growth.sh counts the instructions that two lengths take.
inline std::size_t size(std::size_t usual) {
  const char* asked = std::getenv("YUBIFU_SIZE");
  return asked == nullptr ? usual : std::strtoull(asked, nullptr, 10);
}

}  // namespace yubifu::support
