#include <gtest/gtest.h>

#include "base/diagnostic.h"

namespace yubifu::base {
namespace {

TEST(BarList, NamesOneBar) {
  EXPECT_EQ(bar_list({"7"}), "bar 7");
}

TEST(BarList, JoinsThreeThatCountUpButNotTwo) {
  EXPECT_EQ(bar_list({"3", "4", "9", "10", "11"}), "bars 3, 4, 9-11");
}

TEST(BarList, TakesNumbersThatAreNoNumbers) {
  EXPECT_EQ(bar_list({"0", "X1", "2", "2"}), "bars 0, X1, 2, 2");
}

TEST(BarList, EndsALongList) {
  std::vector<std::string> odd;
  for (int i = 1; i <= 49; i += 2) odd.push_back(std::to_string(i));
  EXPECT_EQ(bar_list(odd),
            "bars 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25, 27, 29, 31, 33, 35, 37, 39 and "
            "5 more");
}

}  // namespace
}  // namespace yubifu::base
