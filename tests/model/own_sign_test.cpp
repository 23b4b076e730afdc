// Which characters a flute file may take for signs of its own.
#include <gtest/gtest.h>

#include "model/fingering.h"

namespace yubifu::model {
namespace {

TEST(OwnSign, IsOneLetterOrDigitThatMeansNothingElse) {
  for (const char* sign :
       {"甲", "乙", "ハ", "9", "z", "A", "あ", "八", "é", "ハ\u3099", "甲\u0307"}) {
    EXPECT_TRUE(is_own_sign(sign)) << sign;
  }
}

TEST(OwnSign, IsNoSignOfTheTable) {
  for (const char* sign : {"一", "七", "筒", "0", "7", "8", "2̇", "7̇"}) {
    EXPECT_FALSE(is_own_sign(sign)) << sign;
  }
}

TEST(OwnSign, IsNothingThatTheTextUses) {
  // Half holes, spellings and dashes, their full-width and half-width forms, look-alikes, 1̇ and 8̇
  // which are read as 8, punctuation, nothing, two characters, a mark alone.
  for (const char* sign :
       {"メ", "め", "カ", "m",  "k",  "r", "d", "t", "v", "x",  "ー", "休",   "〇",    "零",
        "ニ", "ミ", "力", "ｍ", "９", "ﾒ", "1̇", "8̇", "(", "・", "",   "甲乙", "\u0307"}) {
    EXPECT_FALSE(is_own_sign(sign)) << sign;
  }
}

}  // namespace
}  // namespace yubifu::model
