#include "base/large_block.h"

#include <vector>

#include <gtest/gtest.h>

namespace yubifu::base {
namespace {

TEST(LargeBlock, IsReservedWhateverItsSize) {
  for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{1} << 20}) {
    std::vector<long> values;
    reserve_large(values, count);
    ASSERT_GE(values.capacity(), count);
    const long* const block = values.data();
    for (std::size_t i = 0; i < count; ++i) values.push_back(static_cast<long>(i));
    EXPECT_EQ(values.data(), block);
    EXPECT_TRUE(values.empty() || values.back() == static_cast<long>(count) - 1);
  }
}

}  // namespace
}  // namespace yubifu::base
