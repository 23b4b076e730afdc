// Exact time: every onset and duration is a fraction, never a floating-point number.
#pragma once

#include <compare>
#include <cstdint>
#include <numeric>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

namespace yubifu::model {

/// Thrown when a fraction leaves 64 bits. Whoever walks a score bar by bar reports the bar.
class TimeOverflow : public std::overflow_error {
 public:
  TimeOverflow();
};

/// A fraction in lowest terms with a positive denominator; as a time in quarter notes.
class Rational {
 public:
  constexpr Rational() = default;
  // Implicit, so that whole numbers mix with fractions as on paper.
  constexpr Rational(std::int64_t whole) : numerator_(whole) {}  // NOLINT(google-explicit-*)
  /// Throws TimeOverflow for a denominator of zero or a result outside 64 bits.
  constexpr Rational(std::int64_t numerator, std::int64_t denominator)
      : Rational(reduced(numerator, denominator)) {}

  constexpr std::int64_t numerator() const { return numerator_; }
  constexpr std::int64_t denominator() const { return denominator_; }
  constexpr bool is_whole() const { return denominator_ == 1; }

  /// The largest whole number not above this.
  constexpr std::int64_t floor() const {
    const std::int64_t quotient = numerator_ / denominator_;
    return numerator_ % denominator_ < 0 ? quotient - 1 : quotient;
  }
  constexpr std::int64_t ceil() const { return is_whole() ? numerator_ : floor() + 1; }
  constexpr double as_double() const {
    return static_cast<double>(numerator_) / static_cast<double>(denominator_);
  }

  friend constexpr Rational operator+(Rational a, Rational b) {
    if (a.denominator_ == b.denominator_) {
      return reduced(Wide{a.numerator_} + b.numerator_, a.denominator_);
    }
    return reduced(Wide{a.numerator_} * b.denominator_ + Wide{b.numerator_} * a.denominator_,
                   Wide{a.denominator_} * b.denominator_);
  }
  friend constexpr Rational operator-(Rational a) {
    return in_lowest_terms(-Wide{a.numerator_}, a.denominator_);
  }
  friend constexpr Rational operator-(Rational a, Rational b) { return a + -b; }
  friend constexpr Rational operator*(Rational a, Rational b) {
    return reduced(Wide{a.numerator_} * b.numerator_, Wide{a.denominator_} * b.denominator_);
  }
  /// Throws TimeOverflow when `b` is zero.
  friend constexpr Rational operator/(Rational a, Rational b) {
    return reduced(Wide{a.numerator_} * b.denominator_, Wide{a.denominator_} * b.numerator_);
  }
  constexpr Rational& operator+=(Rational b) { return *this = *this + b; }
  constexpr Rational& operator-=(Rational b) { return *this = *this - b; }

  friend constexpr bool operator==(Rational, Rational) = default;
  friend constexpr std::strong_ordering operator<=>(Rational a, Rational b) {
    if (a.denominator_ == b.denominator_) return a.numerator_ <=> b.numerator_;
    return Wide{a.numerator_} * b.denominator_ <=> Wide{b.numerator_} * a.denominator_;
  }

 private:
  __extension__ using Wide = __int128;
  static constexpr Wide kMost = INT64_MAX;

  struct Reduced {};
  constexpr Rational(Reduced, std::int64_t numerator, std::int64_t denominator)
      : numerator_(numerator), denominator_(denominator) {}

  static constexpr Rational reduced(Wide numerator, Wide denominator) {
    if (denominator == 0) throw TimeOverflow();
    if (denominator < 0) {
      numerator = -numerator;
      denominator = -denominator;
    }
    // Division is slow in 128 bits, and music hardly ever needs them.
    if (numerator <= kMost && numerator >= -kMost && denominator <= kMost) {
      const auto above = static_cast<std::int64_t>(numerator);
      const auto below = static_cast<std::int64_t>(denominator);
      const std::int64_t divisor = below == 1 ? 1 : std::gcd(above, below);
      return {Reduced(), above / divisor, below / divisor};
    }
    const Wide divisor = common_divisor(numerator < 0 ? -numerator : numerator, denominator);
    return in_lowest_terms(numerator / divisor, denominator / divisor);
  }

  // Of two numbers that are not negative, the second one not zero.
  static constexpr Wide common_divisor(Wide a, Wide b) {
    while (b != 0) a = std::exchange(b, a % b);
    return a;
  }

  static constexpr Rational in_lowest_terms(Wide numerator, Wide denominator) {
    if (numerator > kMost || numerator < -kMost || denominator > kMost) throw TimeOverflow();
    return {Reduced(), static_cast<std::int64_t>(numerator),
            static_cast<std::int64_t>(denominator)};
  }

  std::int64_t numerator_ = 0;
  std::int64_t denominator_ = 1;
};

/// "3/2", or "2" for a whole number.
std::string to_text(Rational value);
/// Reads `-?digits(/digits)?`; nothing for a denominator of zero and numbers outside 64 bits.
std::optional<Rational> parse_rational(std::string_view text);

/// The shortest decimal for a value that has one, otherwise rounded to nine places.
std::string to_decimal(Rational value);
/// Reads a decimal such as "76" or "92.5" exactly, at most nine digits after the point.
std::optional<Rational> parse_decimal(std::string_view text);

}  // namespace yubifu::model
