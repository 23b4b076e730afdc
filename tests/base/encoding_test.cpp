#include "base/encoding.h"

#include <string>

#include <gtest/gtest.h>

namespace yubifu::base {
namespace {

using namespace std::string_literals;

TEST(Encoding, KnowsTheUsualOnesAndRefusesInventions) {
  EXPECT_TRUE(is_known_encoding("Shift_JIS"));
  EXPECT_TRUE(is_known_encoding("utf-16le"));
  EXPECT_TRUE(is_known_encoding("ISO-8859-1"));
  EXPECT_FALSE(is_known_encoding("bamboo-7"));
  EXPECT_FALSE(is_known_encoding(""));
  EXPECT_FALSE(is_known_encoding("ASCII//TRANSLIT"));
}

TEST(Encoding, ConvertsBothWays) {
  // 笛 is 93 4A in Shift_JIS and U+7B1B; the second byte of 表 (95 5C) is a backslash in ASCII.
  EXPECT_EQ(to_utf8("\x93\x4A\x95\x5C"s, "Shift_JIS").text, "笛表");
  EXPECT_FALSE(to_utf8("\x93\x4A\x95\x5C"s, "Shift_JIS").stopped_at);
  EXPECT_EQ(from_utf8("笛", "Shift_JIS").text, "\x93\x4A"s);
  EXPECT_EQ(to_utf8("\x1B\x7B"s, "UTF-16LE").text, "笛");
  EXPECT_EQ(to_utf8("\xE9"s, "ISO-8859-1").text, "é");
}

TEST(Encoding, StopsAtTheFirstByteThatDoesNotFit) {
  const Conversion lone_surrogate = to_utf8("a\0\x00\xD8"s + "b\0"s, "UTF-16LE");
  EXPECT_EQ(lone_surrogate.text, "a");
  EXPECT_EQ(lone_surrogate.stopped_at, 2u);
  const Conversion half_a_character = to_utf8("a\x93"s, "Shift_JIS");
  EXPECT_EQ(half_a_character.text, "a");
  EXPECT_EQ(half_a_character.stopped_at, 1u);
  const Conversion missing = from_utf8("a笛", "ISO-8859-1");
  EXPECT_EQ(missing.text, "a");
  EXPECT_EQ(missing.stopped_at, 1u);
}

TEST(Encoding, AnUnknownEncodingStopsAtOnce) {
  EXPECT_EQ(to_utf8("abc", "bamboo-7").stopped_at, 0u);
}

}  // namespace
}  // namespace yubifu::base
