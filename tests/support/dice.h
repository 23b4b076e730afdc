// Random choices that are the same on every machine: the distributions of the standard library
// are not.
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <vector>

namespace yubifu::support {

class Dice {
 public:
  explicit Dice(std::mt19937_64& random) : random_(random) {}

  /// 0 to n-1.
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }

  /// Both ends included.
  int between(int low, int high) {
    return low + static_cast<int>(below(static_cast<std::size_t>(high - low + 1)));
  }

  bool percent(int chance) { return between(0, 99) < chance; }

  template <typename T>
  const T& pick(const std::vector<T>& from) {
    return from[below(from.size())];
  }

 private:
  std::mt19937_64& random_;
};

}  // namespace yubifu::support
