// Numbers in texts, checked to their end.
#pragma once

#include <bit>
#include <charconv>
#include <concepts>
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

/// The whole number that `text` is, from its first character to its last; nothing for anything
/// else, a plus sign and a value out of range included.
template <typename Whole = int>
std::optional<Whole> whole_number(std::string_view text) {
  Whole value = 0;
  const char* const last = text.data() + text.size();
  const auto [end, error] = std::from_chars(text.data(), last, value);
  if (error != std::errc{} || end != last) return std::nullopt;
  return value;
}

/// True for one digit or more and nothing else.
inline bool is_digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
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
