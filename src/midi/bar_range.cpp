#include "midi/bar_range.h"

#include <charconv>
#include <system_error>

namespace yubifu::midi {

int bar_number(const model::Measure& measure) {
  int number = -1;
  std::from_chars(measure.number.data(), measure.number.data() + measure.number.size(), number);
  return number;
}

std::optional<BarRange> parse_bar_range(std::string_view text) {
  BarRange range;
  const char* const end = text.data() + text.size();
  const auto first = std::from_chars(text.data(), end, range.first);
  if (first.ec != std::errc{} || range.first < 0) return std::nullopt;
  if (first.ptr == end) return BarRange{range.first, range.first};
  if (*first.ptr != '-') return std::nullopt;
  const auto last = std::from_chars(first.ptr + 1, end, range.last);
  if (last.ec != std::errc{} || last.ptr != end || range.last < range.first) return std::nullopt;
  return range;
}

}  // namespace yubifu::midi
