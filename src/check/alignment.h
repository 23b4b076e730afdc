// Two rows of things, or texts, laid side by side so that what is missing in one costs least.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace yubifu::check {

/// One thing of a row, as numbers to compare: `what` weighs most, `how_long` and `where` little.
struct Token {
  std::int64_t what = 0;
  std::int64_t how_long = 0;
  std::int64_t where = 0;

  friend bool operator==(const Token&, const Token&) = default;
};

/// A pair, or one side alone.
struct Pairing {
  std::optional<std::size_t> a;
  std::optional<std::size_t> b;

  friend bool operator==(const Pairing&, const Pairing&) = default;
};

/// The alignment of least cost, in order, every index of both rows once. Equal beginnings and ends
/// are paired at once; what remains between is aligned exactly where it has much in common or the
/// product of its lengths stays under `kMostCells`, otherwise within a band around the diagonal.
/// Time grows with the length times the cost, at most with that product, memory with the rows.
std::vector<Pairing> align(const std::vector<Token>& a, const std::vector<Token>& b);

/// About half a second of work on a machine of 2020.
inline constexpr std::size_t kMostCells = 100'000'000;

/// The differences in unified form (POSIX, diff -u), with three lines around each; empty for equal
/// texts. The names stand in its head. Control characters are replaced: a carriage return before a
/// line end shows as a replacement character.
std::string unified_diff(std::string_view before, std::string_view after,
                         std::string_view before_name, std::string_view after_name);

}  // namespace yubifu::check
