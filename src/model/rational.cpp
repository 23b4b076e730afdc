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
  const std::string_view front = text.substr(0, point);
  const std::string_view back =
      point == std::string_view::npos ? std::string_view("0") : text.substr(point + 1);
  const std::string_view digits = front.starts_with('-') ? front.substr(1) : front;
  if (!base::is_digits(digits) || !base::is_digits(back) || back.size() > kMostDecimals)
    return std::nullopt;
  const auto whole = parse_whole(front);
  std::string scaled(back);
  scaled.resize(kMostDecimals, '0');
  const auto part = parse_whole(scaled);
  constexpr std::int64_t kMostWhole = INT64_MAX / kDecimalScale - 1;
  if (!whole || !part || *whole > kMostWhole || *whole < -kMostWhole) return std::nullopt;
  const Rational fraction(*part, kDecimalScale);
  return front.starts_with('-') ? Rational(*whole) - fraction : Rational(*whole) + fraction;
}

std::string to_decimal(Rational value) {
  if (value.is_whole()) return fmt::format("{}", value.numerator());
  const Rational magnitude = value < Rational(0) ? -value : value;
  const std::int64_t whole = magnitude.floor();
  const Rational part = magnitude - whole;
  // Rounded to billionths in 128 bits: the product may leave 64.
  __extension__ using Wide = __int128;
  const Wide scaled = Wide{part.numerator()} * kDecimalScale + part.denominator() / 2;
  const auto billionths = static_cast<std::int64_t>(scaled / part.denominator());
  const std::int64_t carry = billionths / kDecimalScale;
  std::string digits = fmt::format("{:09}", billionths % kDecimalScale);
  digits.erase(digits.find_last_not_of('0') + 1);
  const bool is_zero = whole + carry == 0 && digits.empty();
  std::string text = value < Rational(0) && !is_zero ? "-" : "";
  text += fmt::format("{}", whole + carry);
  return digits.empty() ? text : text + "." + digits;
}

}  // namespace yubifu::model
