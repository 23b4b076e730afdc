#include "base/utf8.h"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

namespace yubifu::base {
namespace {

using namespace std::string_literals;

std::pair<char32_t, std::size_t> first(std::string_view text) {
  const CodePoint point = first_code_point(text);
  return {point.value, point.size};
}

// The byte sequences are those of RFC 3629, section 4, worked out by hand.
TEST(Utf8, TakesOneCodePointOfOneToFourBytes) {
  EXPECT_EQ(first(""), std::pair(U'\0', std::size_t{0}));
  EXPECT_EQ(first("\0a"s), std::pair(U'\0', std::size_t{1}));
  EXPECT_EQ(first("a三"), std::pair(U'a', std::size_t{1}));
  EXPECT_EQ(first("\xC2\x80"), std::pair(U'\x80', std::size_t{2}));
  EXPECT_EQ(first("\xDF\xBF"), std::pair(U'\x7FF', std::size_t{2}));
  EXPECT_EQ(first("\xE0\xA0\x80"), std::pair(U'\x800', std::size_t{3}));
  EXPECT_EQ(first("\xE4\xB8\x89x"), std::pair(U'三', std::size_t{3}));
  EXPECT_EQ(first("\xED\x9F\xBF"), std::pair(char32_t{0xD7FF}, std::size_t{3}));
  EXPECT_EQ(first("\xEE\x80\x80"), std::pair(char32_t{0xE000}, std::size_t{3}));
  EXPECT_EQ(first("\xF0\x90\x80\x80"), std::pair(char32_t{0x10000}, std::size_t{4}));
  EXPECT_EQ(first("\xF4\x8F\xBF\xBF"), std::pair(char32_t{0x10FFFF}, std::size_t{4}));
}

struct BadBytes {
  const char* what;
  std::string bytes;
};
const std::vector<BadBytes> kBadBytes{
    {"a continuation byte alone", "\x80"},
    {"the last continuation byte alone", "\xBF"},
    {"two bytes cut after one", "\xC3"},
    {"three bytes cut after two", "\xE4\xB8"},
    {"four bytes cut after three", "\xF0\x9F\x8E"},
    {"a lead byte and no continuation", "\xE4\x41\x42"},
    {"an overlong NUL", "\xC0\x80"},
    {"an overlong slash of two bytes", "\xC0\xAF"},
    {"an overlong DEL of two bytes", "\xC1\xBF"},
    {"an overlong slash of three bytes", "\xE0\x80\xAF"},
    {"an overlong U+07FF of three bytes", "\xE0\x9F\xBF"},
    {"an overlong U+FFFF of four bytes", "\xF0\x8F\xBF\xBF"},
    {"the first surrogate", "\xED\xA0\x80"},
    {"the last surrogate", "\xED\xBF\xBF"},
    {"one past the last code point", "\xF4\x90\x80\x80"},
    {"a lead byte of five", "\xF8\x88\x80\x80\x80"},
    {"the byte FE", "\xFE"},
    {"the byte FF", "\xFF"},
};

TEST(Utf8, AnInvalidByteIsAReplacementOfOneByte) {
  for (const auto& [what, bytes] : kBadBytes) {
    EXPECT_EQ(first(bytes), std::pair(char32_t{0xFFFD}, std::size_t{1})) << what;
    EXPECT_EQ(first_invalid_utf8(bytes), 0u) << what;
    EXPECT_EQ(first_invalid_utf8("三メ" + bytes), 6u) << what;
  }
}

TEST(Utf8, AValidTextHasNoInvalidByte) {
  EXPECT_FALSE(first_invalid_utf8(""));
  EXPECT_FALSE(first_invalid_utf8("abc"));
  EXPECT_FALSE(first_invalid_utf8("三メ↓20 2̇ \xEF\xBF\xBD 🎶\0"s));
}

TEST(Utf8, CountsCodePointsAndEachInvalidByte) {
  EXPECT_EQ(code_point_count(""), 0u);
  EXPECT_EQ(code_point_count("三メ a"), 4u);
  EXPECT_EQ(code_point_count("2̇"), 2u);
  EXPECT_EQ(code_point_count("🎶"), 1u);
  EXPECT_EQ(code_point_count("a\xED\xA0\x80z"), 5u);
}

TEST(Utf8, AppendsACodePoint) {
  std::string text;
  for (const char32_t value : {U'a', U'é', U'三', U'🎶'}) append_utf8(text, value);
  EXPECT_EQ(text, "aé三🎶");
}

TEST(Utf8, KnowsUnicodesClasses) {
  for (const char32_t space : {U' ', U'\t', U'\n', U'\r', U'\u3000', U'\u00A0'}) {
    EXPECT_TRUE(is_white_space(space)) << static_cast<unsigned>(space);
  }
  EXPECT_FALSE(is_white_space(U'三'));
  EXPECT_FALSE(is_white_space(U'\u200B'));
  for (const char32_t letter : {U'a', U'7', U'三', U'メ', U'あ', U'ｱ', U'〇', U'７'}) {
    EXPECT_TRUE(is_letter_or_digit(letter)) << static_cast<unsigned>(letter);
  }
  for (const char32_t other : {U'・', U'(', U'↓', U'●', U'\u0307', U'-'}) {
    EXPECT_FALSE(is_letter_or_digit(other)) << static_cast<unsigned>(other);
  }
  EXPECT_TRUE(is_combining_mark(U'\u0307'));
  EXPECT_TRUE(is_combining_mark(U'\u3099'));
  EXPECT_FALSE(is_combining_mark(U'2'));
}

// Unicode Standard Annex 11: W and F are two columns, H, Na and N one; a combining mark none.
TEST(Utf8, KnowsTheColumnsOfATerminal) {
  EXPECT_EQ(display_width(U'a'), 1);
  EXPECT_EQ(display_width(U'三'), 2);
  EXPECT_EQ(display_width(U'メ'), 2);
  EXPECT_EQ(display_width(U'あ'), 2);
  EXPECT_EQ(display_width(U'\u3000'), 2);
  EXPECT_EQ(display_width(U'Ａ'), 2);
  EXPECT_EQ(display_width(U'ｱ'), 1);
  EXPECT_EQ(display_width(U'é'), 1);
  EXPECT_EQ(display_width(U'\u0307'), 0);
  EXPECT_EQ(display_width(""), 0);
  EXPECT_EQ(display_width("2̇"), 1);
  EXPECT_EQ(display_width("三メ 2"), 6);
  EXPECT_EQ(display_width("篠笛 shinobue"), 13);
}

TEST(Utf8, PadsToColumns) {
  EXPECT_EQ(padded("三", 4), "三  ");
  EXPECT_EQ(padded("2̇", 4), "2̇   ");
  EXPECT_EQ(padded("三メ", 4), "三メ");
  EXPECT_EQ(padded("三メ", 3), "三メ");
  EXPECT_EQ(padded("", 2), "  ");
  EXPECT_EQ(padded("a", -1), "a");
}

}  // namespace
}  // namespace yubifu::base
