#include <gtest/gtest.h>

#include "model/pitch.h"

namespace yubifu::model {
namespace {

TEST(Tuning, IsHertzInItsRange) {
  EXPECT_EQ(parse_tuning("442"), 442);
  EXPECT_EQ(parse_tuning("440.5"), 440.5);
  EXPECT_EQ(parse_tuning("300"), 300);
  EXPECT_EQ(parse_tuning("600"), 600);
}

TEST(Tuning, IsNoOtherText) {
  for (const char* text : {"", "299.9", "600.1", "440 Hz", " 440", "4.4e2", "nan", "inf", "-440"}) {
    EXPECT_EQ(parse_tuning(text), std::nullopt) << text;
  }
}

}  // namespace
}  // namespace yubifu::model
