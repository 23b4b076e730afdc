#include "base/numbers.h"

#include <cstdint>

#include <gtest/gtest.h>

namespace yubifu::base {
namespace {

TEST(Numbers, WholeOnesAreReadToTheirEnd) {
  EXPECT_EQ(whole_number("0"), 0);
  EXPECT_EQ(whole_number("-12"), -12);
  EXPECT_EQ(whole_number("007"), 7);
  for (const char* text : {"", "-", "+3", " 3", "3 ", "3x", "3.0", "0x3", "2147483648", "三"}) {
    EXPECT_EQ(whole_number(text), std::nullopt) << text;
  }
  EXPECT_EQ(whole_number<std::int64_t>("2147483648"), 2147483648);
}

TEST(Numbers, LeadingOnesAreWhatATextBeginsWith) {
  EXPECT_EQ(leading_number("12a"), 12);
  EXPECT_EQ(leading_number("7"), 7);
  EXPECT_EQ(leading_number("-1 b"), -1);
  for (const char* text : {"", "a12", " 1", "+1", "99999999999"}) {
    EXPECT_EQ(leading_number(text), std::nullopt) << text;
  }
}

TEST(Numbers, DecimalOnesHaveAPointInEveryLanguageAndNoExponent) {
  EXPECT_EQ(decimal_number("440"), 440);
  EXPECT_EQ(decimal_number("441.5"), 441.5);
  EXPECT_EQ(decimal_number("-.5"), -0.5);
  EXPECT_EQ(decimal_number("5."), 5);
  for (const char* text :
       {"", ".", "-", "1,5", "1e3", "0x10", "inf", "nan", "1.2.3", "--1", " 1"}) {
    EXPECT_EQ(decimal_number(text), std::nullopt) << text;
  }
}

}  // namespace
}  // namespace yubifu::base
