// Bars by their printed numbers.
#pragma once

#include <optional>
#include <string_view>

#include "model/measure.h"

namespace yubifu::midi {

/// Both included; the pickup is bar 0. Of the music as it is played:
/// the shortest stretch from the first to the last in which all of them are heard.
struct BarRange {
  int first = 1;
  int last = 1;

  friend bool operator==(const BarRange&, const BarRange&) = default;
};

/// The number of a measure that a BarRange counts by; -1 where what is printed is no number.
int bar_number(const model::Measure& measure);

/// Reads "5-8", or "5" for one bar; nothing for other text or a range that runs backwards.
std::optional<BarRange> parse_bar_range(std::string_view text);

}  // namespace yubifu::midi
