// How many rounds a property test goes.
#pragma once

#include <algorithm>
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

}  // namespace yubifu::support
