#include "model/rational.h"

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"

namespace yubifu::model {
namespace {

constexpr std::size_t kMostDecimals = 9;
constexpr std::int64_t kDecimalScale = 1'000'000'000;

std::optional<std::int64_t> parse_whole(std::string_view text) {
  const auto value = base::whole_number<std::int64_t>(text);
  return value != INT64_MIN ? value : std::nullopt;
}

}  // namespace

TimeOverflow::TimeOverflow()
    : std::overflow_error(base::message("a duration is too fine or too long to be held exactly")) {}

std::string to_text(Rational value) {
  return value.is_whole() ? fmt::format("{}", value.numerator())
                          : fmt::format("{}/{}", value.numerator(), value.denominator());
}

std::optional<Rational> parse_rational(std::string_view text) {
  const std::size_t slash = text.find('/');
  const auto numerator = parse_whole(text.substr(0, slash));
  if (!numerator) return std::nullopt;
  if (slash == std::string_view::npos) return Rational(*numerator);
  const std::string_view below = text.substr(slash + 1);
  const auto denominator = base::is_digits(below) ? parse_whole(below) : std::nullopt;
  if (!denominator || *denominator == 0) return std::nullopt;
  return Rational(*numerator, *denominator);
}

std::optional<Rational> parse_decimal(std::string_view text) {
  const std::size_t point = text.find('.');
  const std::string_view whole = text.substr(0, point);
  std::string decimals(point == std::string_view::npos ? "0" : text.substr(point + 1));
  if (!base::is_digits(whole.substr(whole.starts_with('-') ? 1 : 0)) ||
      !base::is_digits(decimals) || decimals.size() > kMostDecimals) {
    return std::nullopt;
  }
  decimals.resize(kMostDecimals, '0');
  const auto billionths = parse_whole(std::string(whole) + decimals);
  return billionths ? std::optional(Rational(*billionths, kDecimalScale)) : std::nullopt;
}

std::string to_decimal(Rational value) {
  // Rounded to billionths in 128 bits: the product may leave 64.
  __extension__ using Wide = __int128;
  const Wide above = value < Rational(0) ? -Wide{value.numerator()} : Wide{value.numerator()};
  const Wide billionths = (above * kDecimalScale + value.denominator() / 2) / value.denominator();
  std::string text = fmt::format("{}.{:09}", static_cast<std::int64_t>(billionths / kDecimalScale),
                                 static_cast<std::int64_t>(billionths % kDecimalScale));
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return value < Rational(0) && text != "0" ? "-" + text : text;
}

}  // namespace yubifu::model
