// Numbers in texts, checked to their end.
#pragma once

#include <bit>
#include <charconv>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdlib>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <type_traits>

namespace yubifu::base {

/// Whether `value` is 1, 2, 4, 8 and so on.
template <std::integral Whole>
constexpr bool is_power_of_two(Whole value) {
  return value > 0 && std::has_single_bit(static_cast<std::make_unsigned_t<Whole>>(value));
}

/// Takes the whole number that `text` begins with off its front; nothing, and the text stays, for
/// one that begins with anything else, a plus sign and a value out of range included.
template <typename Whole = int>
std::optional<Whole> take_number(std::string_view& text) {
  Whole value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{}) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return value;
}

/// The whole number that `text` is, from its first character to its last.
template <typename Whole = int>
std::optional<Whole> whole_number(std::string_view text) {
  const auto value = take_number<Whole>(text);
  return text.empty() ? value : std::nullopt;
}

/// True for one digit or more and nothing else.
inline bool is_digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

/// `value` to the nearest of so many steps of one: to hundredths with 100.
inline double rounded(double value, double steps) {
  return std::round(value * steps) / steps;
}

/// The decimal number that `text` is: digits with at most one point among or around them, perhaps
/// after a minus sign; nothing for anything else, exponents included. The program never leaves the
/// C locale, so the point is a point everywhere.
inline std::optional<double> decimal_number(std::string_view text) {
  const std::string_view digits = text.substr(text.starts_with('-') ? 1 : 0);
  const std::size_t point = digits.find('.');
  std::string all(digits);
  if (point != std::string_view::npos) all.erase(point, 1);
  if (!is_digits(all)) return std::nullopt;
  return std::strtod(std::string(text).c_str(), nullptr);
}

}  // namespace yubifu::base
