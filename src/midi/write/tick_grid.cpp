#include "midi/write/tick_grid.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <utility>

namespace yubifu::midi {
namespace {

using model::Rational;

// How often each denominator stands in the score.
using Denominators = std::map<std::int64_t, std::size_t>;

Denominators written_times(const model::Score& score) {
  Denominators found;
  for (const model::Measure& measure : score.measures) ++found[measure.length.denominator()];
  for (const model::Note& note : score.notes) {
    ++found[note.onset.denominator()];
    ++found[note.duration.denominator()];
  }
  return found;
}

Denominators grace_times(const model::Score& score) {
  Denominators found;
  for (const model::Note& note : score.notes) {
    if (note.grace_count() == 0 || note.duration.denominator() > kMostTicksPerQuarter) continue;
    ++found[grace_length(note).denominator()];
  }
  return found;
}

// The least common multiple, or nothing above the most a file can hold.
std::optional<std::int64_t> common(std::int64_t multiple, const Denominators& others) {
  for (const auto& [denominator, count] : others) {
    if (denominator > kMostTicksPerQuarter) return std::nullopt;
    multiple = std::lcm(multiple, denominator);
    if (multiple > kMostTicksPerQuarter) return std::nullopt;
  }
  return multiple;
}

// As many of the commonest denominators as fit, in the finest grid that still holds them.
std::int64_t nearly_common(const Denominators& all) {
  std::vector<std::pair<std::int64_t, std::size_t>> order(all.begin(), all.end());
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  std::int64_t ticks = 1;
  for (const auto& entry : order) ticks = common(ticks, {entry}).value_or(ticks);
  return kMostTicksPerQuarter / ticks * ticks;
}

}  // namespace

std::int64_t to_ticks(Rational time, int ppq) {
  if (ppq % time.denominator() == 0) {
    std::int64_t ticks = 0;
    if (__builtin_mul_overflow(time.numerator(), ppq / time.denominator(), &ticks)) {
      throw model::TimeOverflow();
    }
    return ticks;
  }
  return (time * Rational(ppq) + Rational(1, 2)).floor();
}

TickGrid choose_grid(const model::Score& score, std::optional<int> asked) {
  const Denominators written = written_times(score);
  if (asked) {
    const auto fits = [&](const auto& entry) { return *asked % entry.first == 0; };
    return {*asked, std::all_of(written.begin(), written.end(), fits)};
  }
  const auto exact = common(1, written);
  if (!exact) return {static_cast<int>(nearly_common(written)), false};
  const std::int64_t ticks = common(*exact, grace_times(score)).value_or(*exact);
  const std::int64_t times = std::max<std::int64_t>(1, (kFewestTicks + ticks - 1) / ticks);
  return {static_cast<int>(ticks * times), true};
}

Rational grace_length(const model::Note& note) {
  const auto count = static_cast<std::int64_t>(note.grace_count());
  return std::min(Rational(1, 8), note.duration / Rational(2 * count));
}

}  // namespace yubifu::midi
