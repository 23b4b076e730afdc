#include "midi/tick_lattice.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <optional>

namespace yubifu::midi {
namespace {

constexpr std::int64_t kSimpleParts = 16;
constexpr std::int64_t kTicksInPart = 4;
constexpr double kShareOnGrid = 0.9;

// Divisions that a file's ticks may have to round, simplest first.
constexpr std::array<std::int64_t, 12> kRoundedParts{1, 2, 3, 4, 6, 8, 12, 5, 16, 24, 7, 9};

struct Place {
  std::int64_t numerator = 0;
  std::int64_t parts = 1;
};

// The simple part of the quarter note that the tick (counted from the quarter's start) stands for.
std::optional<Place> rounded_place(std::int64_t offset, const MusicalTime& time) {
  for (const std::int64_t parts : kRoundedParts) {
    const bool exact = time.ppq % parts == 0;
    // A division that the ticks hold exactly is never rounded, one that they do not by under a
    // tick.
    if (exact && time.slack == 0) continue;
    const double place = static_cast<double>(offset * parts) / time.ppq;
    const double nearest = std::round(place);
    const double away = std::abs(place - nearest) * time.ppq / static_cast<double>(parts);
    if (away < std::max(1.0, time.slack)) return Place{static_cast<std::int64_t>(nearest), parts};
  }
  return std::nullopt;
}

Place place_of(std::int64_t offset, const MusicalTime& time) {
  const std::int64_t common = std::gcd(offset, std::int64_t{time.ppq});
  const Place exact{offset / common, time.ppq / common};
  if (exact.parts <= kSimpleParts && time.slack == 0) return exact;
  return rounded_place(offset, time).value_or(exact);
}

}  // namespace

TickLattice::TickLattice(const MusicalTime& time, std::int64_t fine_ppq)
    : time_(time), factor_(fine_ppq / time.ppq) {}

std::int64_t TickLattice::snapped(std::int64_t tick) const {
  const std::int64_t quarter = tick / time_.ppq;
  const Place place = place_of(tick % time_.ppq, time_);
  const std::int64_t fine_ppq = factor_ * time_.ppq;
  return quarter * fine_ppq + place.numerator * fine_ppq / place.parts;
}

std::int64_t TickLattice::parts_of(std::int64_t tick) const {
  return place_of(tick % time_.ppq, time_).parts;
}

template <typename TickOf>
bool TickLattice::sit_on_grid(const std::vector<TickSpan>& notes, TickOf tick_of) const {
  const std::int64_t most = std::clamp<std::int64_t>(time_.ppq / kTicksInPart, 1, kSimpleParts);
  std::size_t quarters = 0;
  std::size_t simple = 0;
  for (std::size_t i = 0; i < notes.size();) {
    const std::int64_t quarter = tick_of(notes[i]) / time_.ppq;
    std::int64_t parts = 1;
    for (; i < notes.size() && tick_of(notes[i]) / time_.ppq == quarter; ++i) {
      if (parts <= most) parts = std::lcm(parts, parts_of(tick_of(notes[i])));
    }
    ++quarters;
    if (parts <= most) ++simple;
  }
  return static_cast<double>(simple) >= kShareOnGrid * static_cast<double>(quarters);
}

TimeReading TickLattice::reading(const std::vector<TickSpan>& notes) const {
  if (!sit_on_grid(notes, [](const TickSpan& note) { return note.begin; })) {
    return TimeReading::quantised;
  }
  const bool ends = sit_on_grid(notes, [](const TickSpan& note) { return note.end; });
  return ends ? TimeReading::exact : TimeReading::ends_quantised;
}

}  // namespace yubifu::midi
