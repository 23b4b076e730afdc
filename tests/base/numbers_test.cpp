#include "base/numbers.h"

#include <cstdint>
#include <string_view>

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
  std::string_view text = "12a7-1 b";
  EXPECT_EQ(take_number(text), 12);
  text.remove_prefix(1);
  EXPECT_EQ(take_number(text), 7);
  EXPECT_EQ(take_number(text), -1);
  EXPECT_EQ(text, " b");
  for (std::string_view none : {"", "a12", " 1", "+1", "99999999999"}) {
    const std::string_view whole = none;
    EXPECT_EQ(take_number(none), std::nullopt) << whole;
    EXPECT_EQ(none, whole);
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
