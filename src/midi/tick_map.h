// The ticks of a file on the finer line on which a score is made.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

#include "midi/timed.h"

namespace yubifu::midi {

/// Where a tick of the file stands. A tick on which a note began goes where the note went; others
/// lie between the beats that were played, or where the file has them.
class TickMap {
 public:
  /// A tick of the file, not rounded, and its place in fine ticks.
  struct Pin {
    double file = 0;
    std::int64_t fine = 0;
  };

  /// Each tick of the file is `factor` fine ones. With pins, at least two and rising, what lies
  /// between and beyond them is moved with them; nothing goes before 0.
  explicit TickMap(std::int64_t factor, std::vector<Pin> pins = {})
      : factor_(factor), pins_(std::move(pins)) {}

  /// `file` and `fine` are the times of the notes, in order.
  void follow(const std::vector<TickSpan>& file, const std::vector<TickSpan>& fine) {
    notes_.clear();
    for (std::size_t i = 0; i < file.size(); ++i) {
      notes_.emplace_back(file[i].begin, fine[i].begin);
    }
  }

  std::int64_t operator()(std::int64_t file) const {
    const auto note = std::lower_bound(notes_.begin(), notes_.end(), std::pair(file, INT64_MIN));
    return note != notes_.end() && note->first == file ? note->second : between(file);
  }

  /// Without looking at the notes.
  std::int64_t between(std::int64_t file) const {
    if (pins_.empty()) return file * factor_;
    const auto at = static_cast<double>(file);
    const auto [a, b] = around([&](const Pin& pin) { return pin.file <= at; });
    const double slope = static_cast<double>(b.fine - a.fine) / (b.file - a.file);
    return std::max<std::int64_t>(0, a.fine + std::llround((at - a.file) * slope));
  }

  /// The tick of the file at a place, for messages.
  std::int64_t file_tick(std::int64_t fine) const {
    if (pins_.empty()) return fine / factor_;
    const auto [a, b] = around([&](const Pin& pin) { return pin.fine <= fine; });
    const double slope = (b.file - a.file) / static_cast<double>(b.fine - a.fine);
    return std::llround(a.file + static_cast<double>(fine - a.fine) * slope);
  }

 private:
  template <typename Before>
  std::pair<Pin, Pin> around(Before before) const {
    const auto after = std::partition_point(pins_.begin(), pins_.end(), before);
    const auto right = std::clamp(after, pins_.begin() + 1, pins_.end() - 1);
    return {*(right - 1), *right};
  }

  std::int64_t factor_;
  std::vector<Pin> pins_;
  std::vector<std::pair<std::int64_t, std::int64_t>> notes_;
};

}  // namespace yubifu::midi
