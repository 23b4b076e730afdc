// Ticks as exact fractions of a quarter note.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "model/rational.h"

namespace yubifu::midi {

/// Music repeats its times over and over, and bringing a fraction to lowest terms is slow: the last
/// ones are remembered.
class Quarters {
 public:
  explicit Quarters(std::int64_t ppq) : ppq_(ppq) {}

  model::Rational operator()(std::int64_t ticks) {
    Entry& entry = entries_[static_cast<std::uint64_t>(ticks) * kScatter >> kShift];
    if (entry.ticks != ticks) entry = {ticks, model::Rational(ticks, ppq_)};
    return entry.quarters;
  }

 private:
  struct Entry {
    std::int64_t ticks = 0;
    model::Rational quarters;
  };
  static constexpr std::size_t kEntries = 1024;
  static constexpr int kShift = 64 - 10;  // to the 1024 entries
  // Spreads multiples of anything over the table (2^64 divided by the golden ratio).
  static constexpr std::uint64_t kScatter = 0x9E3779B97F4A7C15;

  std::int64_t ppq_;
  std::array<Entry, kEntries> entries_{};
};

}  // namespace yubifu::midi
