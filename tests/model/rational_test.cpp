#include "model/rational.h"

#include <cstdint>

#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

constexpr std::int64_t kMost = INT64_MAX;

TEST(Rational, IsKeptInLowestTermsWithAPositiveDenominator) {
  EXPECT_EQ(Rational(6, 4).numerator(), 3);
  EXPECT_EQ(Rational(6, 4).denominator(), 2);
  EXPECT_EQ(Rational(3, -6), Rational(-1, 2));
  EXPECT_EQ(Rational(-3, -6), Rational(1, 2));
  EXPECT_EQ(Rational(0, -7), Rational(0));
  EXPECT_EQ(Rational(0, -7).denominator(), 1);
  EXPECT_EQ(Rational(INT64_MIN, 2), Rational(INT64_MIN / 2));
}

TEST(Rational, Reckons) {
  static_assert(Rational(1, 2) + Rational(1, 3) == Rational(5, 6));
  EXPECT_EQ(Rational(1, 2) - Rational(2, 3), Rational(-1, 6));
  EXPECT_EQ(Rational(2, 3) * Rational(9, 4), Rational(3, 2));
  EXPECT_EQ(Rational(1, 2) / Rational(-3, 4), Rational(-2, 3));
  EXPECT_EQ(1 - Rational(1, 64), Rational(63, 64));
  Rational sum(1, 3);
  sum += Rational(2, 3);
  EXPECT_TRUE(sum.is_whole());
  sum -= 3;
  EXPECT_EQ(sum, Rational(-2));
}

TEST(Rational, Compares) {
  EXPECT_LT(Rational(1, 3), Rational(34, 100));
  EXPECT_LT(Rational(-1, 2), Rational(-1, 3));
  EXPECT_GT(Rational(1, 7), Rational(0));
  EXPECT_GE(Rational(4, 2), Rational(2));
  // In floating point both are the same.
  EXPECT_LT(Rational(kMost - 1, kMost), Rational(1));
  EXPECT_LT(Rational(1, kMost), Rational(1, kMost - 1));
}

TEST(Rational, RoundsDownAndUp) {
  EXPECT_EQ(Rational(7, 2).floor(), 3);
  EXPECT_EQ(Rational(7, 2).ceil(), 4);
  EXPECT_EQ(Rational(-7, 2).floor(), -4);
  EXPECT_EQ(Rational(-7, 2).ceil(), -3);
  EXPECT_EQ(Rational(-4).floor(), -4);
  EXPECT_EQ(Rational(4).ceil(), 4);
  EXPECT_DOUBLE_EQ(Rational(-3, 8).as_double(), -0.375);
}

TEST(Rational, ThrowsWhenItLeaves64Bits) {
  const Rational largest(kMost);
  EXPECT_THROW(largest + 1, TimeOverflow);
  EXPECT_THROW(-largest - 2, TimeOverflow);
  EXPECT_THROW(largest * 2, TimeOverflow);
  EXPECT_THROW(Rational(1, kMost) / 2, TimeOverflow);
  EXPECT_THROW(Rational(1, kMost) + Rational(1, kMost - 1), TimeOverflow);
  EXPECT_THROW(Rational(INT64_MIN, 1) * 1, TimeOverflow);
  EXPECT_THROW(Rational(1, 0), TimeOverflow);
  EXPECT_THROW(Rational(1) / 0, TimeOverflow);
}

TEST(Rational, PassesThrough128BitsWhereTheResultFits) {
  const Rational largest(kMost);
  EXPECT_EQ(largest * Rational(1, kMost), Rational(1));
  EXPECT_EQ(largest + -largest, Rational(0));
  EXPECT_EQ(Rational(1, kMost) + Rational(kMost - 1, kMost), Rational(1));
  EXPECT_EQ(Rational(kMost - 1, 2) * Rational(2, kMost - 1), Rational(1));
  // Both sides of the fraction pass 64 bits before it is reduced.
  constexpr std::int64_t kWide = std::int64_t{1} << 32;
  const Rational wide(kWide + 1, kWide);
  EXPECT_EQ(wide / wide, Rational(1));
  EXPECT_TRUE((wide / wide).is_whole());
  EXPECT_EQ(Rational(kWide * 3, kWide + 1) / Rational(kWide * 6, kWide + 1), Rational(1, 2));
}

TEST(Rational, IsWrittenAndRead) {
  EXPECT_EQ(to_text(Rational(3, 2)), "3/2");
  EXPECT_EQ(to_text(Rational(-1, 3)), "-1/3");
  EXPECT_EQ(to_text(Rational(4, 2)), "2");
  EXPECT_EQ(parse_rational("3/2"), Rational(3, 2));
  EXPECT_EQ(parse_rational("6/4"), Rational(3, 2));
  EXPECT_EQ(parse_rational("-12"), Rational(-12));
  EXPECT_EQ(parse_rational("9223372036854775807"), Rational(kMost));
}

TEST(Rational, OtherTextIsNone) {
  for (const char* text : {"",
                           "/",
                           "1/",
                           "/2",
                           "1/0",
                           "1/-2",
                           "1/2/3",
                           " 1",
                           "1 ",
                           "1.5",
                           "+1",
                           "x",
                           "1/2x",
                           "--1",
                           "-",
                           "９",
                           "9223372036854775808",
                           "-9223372036854775808",
                           "1/9223372036854775808",
                           "1/ 2"}) {
    EXPECT_EQ(parse_rational(text), std::nullopt) << text;
  }
}

TEST(Rational, ReadsDecimalsExactly) {
  EXPECT_EQ(parse_decimal("76"), Rational(76));
  EXPECT_EQ(parse_decimal("92.5"), Rational(185, 2));
  EXPECT_EQ(parse_decimal("0.1"), Rational(1, 10));
  EXPECT_EQ(parse_decimal("-0.25"), Rational(-1, 4));
  EXPECT_EQ(parse_decimal("007.50"), Rational(15, 2));
  EXPECT_EQ(parse_decimal("0.000000001"), Rational(1, 1'000'000'000));
  for (const char* text : {"", ".", "1.", ".5", "1.5.2", "1,5", "1e3", "+1", "0.0000000001", "-",
                           "1.-5", "nan", "inf", "9223372037", " 1", "1/2"}) {
    EXPECT_EQ(parse_decimal(text), std::nullopt) << text;
  }
}

TEST(Rational, WritesTheShortestDecimal) {
  EXPECT_EQ(to_decimal(Rational(76)), "76");
  EXPECT_EQ(to_decimal(Rational(185, 2)), "92.5");
  EXPECT_EQ(to_decimal(Rational(-1, 8)), "-0.125");
  EXPECT_EQ(to_decimal(Rational(1, 3)), "0.333333333");
  EXPECT_EQ(to_decimal(Rational(2, 3)), "0.666666667");
  EXPECT_EQ(to_decimal(Rational(-2, 3)), "-0.666666667");
  EXPECT_EQ(to_decimal(Rational(999'999'999'999, 1'000'000'000'000)), "1");
  EXPECT_EQ(to_decimal(Rational(-1, 10'000'000'000)), "0");
  EXPECT_EQ(to_decimal(Rational(1, 1'000'000'000)), "0.000000001");
  EXPECT_EQ(to_decimal(Rational(kMost - 1, kMost)), "1");
}

}  // namespace
}  // namespace yubifu::model
