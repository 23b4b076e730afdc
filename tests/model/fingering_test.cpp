#include "model/fingering.h"

#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

struct SignRow {
  const char* printed;
  const char* ascii;
  Register in;
  int number;
};
// The table of signs of the notation.
const std::vector<SignRow> kSigns{
    {"筒", "rt", Register::tube, 0},       {"一", "r1", Register::low, 1},
    {"二", "r2", Register::low, 2},        {"三", "r3", Register::low, 3},
    {"四", "r4", Register::low, 4},        {"五", "r5", Register::low, 5},
    {"六", "r6", Register::low, 6},        {"七", "r7", Register::low, 7},
    {"0", "0", Register::second, 0},       {"1", "1", Register::second, 1},
    {"2", "2", Register::second, 2},       {"3", "3", Register::second, 3},
    {"4", "4", Register::second, 4},       {"5", "5", Register::second, 5},
    {"6", "6", Register::second, 6},       {"7", "7", Register::second, 7},
    {"8", "8", Register::third, 1},        {"2\u0307", "d2", Register::third, 2},
    {"3\u0307", "d3", Register::third, 3}, {"4\u0307", "d4", Register::third, 4},
    {"5\u0307", "d5", Register::third, 5}, {"6\u0307", "d6", Register::third, 6},
    {"7\u0307", "d7", Register::third, 7}};

TEST(Sign, TheStandardOnesHaveAPlaceAndTwoSpellings) {
  for (const auto& [printed_form, ascii_form, in, number] : kSigns) {
    const auto sign = Sign::standard(in, number);
    ASSERT_TRUE(sign) << printed_form;
    EXPECT_EQ(sign->printed(), printed_form);
    EXPECT_EQ(ascii(*sign), ascii_form);
    EXPECT_EQ(standard_place(Sign(printed_form)), (SignPlace{in, number}));
  }
}

TEST(Sign, ThereAreNoOthersInTheRegisters) {
  for (const Register in : {Register::low, Register::second, Register::third}) {
    EXPECT_EQ(Sign::standard(in, 8), std::nullopt);
    EXPECT_EQ(Sign::standard(in, -1), std::nullopt);
  }
  EXPECT_EQ(Sign::standard(Register::low, 0), std::nullopt);
  EXPECT_EQ(Sign::standard(Register::third, 0), std::nullopt);
}

TEST(Sign, OneOfAFluteFileHasNoPlaceAndOneSpelling) {
  EXPECT_EQ(standard_place(Sign("甲")), std::nullopt);
  EXPECT_EQ(ascii(Sign("甲")), "甲");
}

Fingering fingering(const char* sign, HalfHole half = HalfHole::none, int bend = 0) {
  return {Sign(sign), half, bend};
}

TEST(Fingering, IsPrintedInBothAlphabets) {
  struct Row {
    const char* printed_form;
    const char* ascii_form;
    Fingering value;
  };
  const std::vector<Row> rows{{"三", "r3", fingering("三")},
                              {"三メ", "r3m", fingering("三", HalfHole::under)},
                              {"二カ", "r2k", fingering("二", HalfHole::over)},
                              {"三↓20", "r3v20", fingering("三", HalfHole::none, -20)},
                              {"三メ↓20", "r3mv20", fingering("三", HalfHole::under, -20)},
                              {"7カ↑200", "7k^200", fingering("7", HalfHole::over, 200)},
                              {"2\u0307↑1", "d2^1", fingering("2\u0307", HalfHole::none, 1)},
                              {"筒↓200", "rtv200", fingering("筒", HalfHole::none, -200)}};
  for (const Row& row : rows) {
    EXPECT_EQ(printed(row.value), row.printed_form);
    EXPECT_EQ(printed(row.value, Alphabet::ascii), row.ascii_form);
    EXPECT_EQ(parse_printed(row.printed_form), row.value) << row.printed_form;
  }
  EXPECT_EQ(printed(Fingering{}), "");
  EXPECT_TRUE(Fingering{}.is_gap());
}

TEST(Fingering, EverySignIsReadWithHalfHolesAndBends) {
  for (const SignRow& row : kSigns) {
    for (const HalfHole half : {HalfHole::none, HalfHole::under, HalfHole::over}) {
      for (const int bend : {-200, -1, 0, 20}) {
        const Fingering value = fingering(row.printed, half, bend);
        EXPECT_EQ(parse_printed(printed(value)), value) << printed(value);
      }
    }
  }
}

TEST(Fingering, OtherTextIsNone) {
  for (const char* text : {"",
                           "r3",
                           "三 ",
                           " 三",
                           "三四",
                           "三m",
                           "三メメ",
                           "三メカ",
                           "メ三",
                           "三20",
                           "三メ20",
                           "三↓",
                           "三↓0",
                           "三↓00",
                           "三↓05",
                           "三↑020",
                           "三↓201",
                           "三↓-5",
                           "三↓+5",
                           "三↓5メ",
                           "三↓5↑5",
                           "三v20",
                           "↓20",
                           "9",
                           "8\u0307",
                           "1\u0307",
                           "甲",
                           "三メ ↓5",
                           "三↓５",
                           "三↓5.5",
                           "-",
                           "・",
                           "？C5",
                           "?C5",
                           "三~",
                           "三{yuri}",
                           "三↓99999999999999999999"}) {
    EXPECT_EQ(parse_printed(text), std::nullopt) << text;
  }
}

TEST(Bend, IsReadAsCents) {
  EXPECT_EQ(parse_bend("↓20"), -20);
  EXPECT_EQ(parse_bend("↑200"), 200);
  EXPECT_EQ(parse_bend("↑1"), 1);
  for (const char* text : {"", "20", "↓", "↓0", "↓05", "↓201", "↓2 ", "↓↓2", "v20", "↓-2"}) {
    EXPECT_EQ(parse_bend(text), std::nullopt) << text;
  }
}

TEST(HolePattern, IsPrintedAndReadInBothAlphabets) {
  const HolePattern pattern{{Hole::open, Hole::closed, Hole::half, Hole::steadying}};
  EXPECT_EQ(printed(pattern), "○●◐◎");
  EXPECT_EQ(printed(pattern, Alphabet::ascii), "oxhs");
  EXPECT_EQ(parse_hole_pattern("○●◐◎"), pattern);
  EXPECT_EQ(parse_hole_pattern("oxhs"), pattern);
  EXPECT_EQ(parse_hole_pattern("○x◐s"), pattern);
  for (const char* text : {"", "○ ●", "O", "○●1", "◯", "x\xE2"}) {
    EXPECT_EQ(parse_hole_pattern(text), std::nullopt) << text;
  }
}

TEST(Fingering, signs_of_flute_files_are_read_where_only_fingering_can_stand) {
  for (const std::string_view text : {"い", "か\u3099", "X", "いメ", "いカ↑5", "い↓20"}) {
    EXPECT_EQ(parse_printed(text), std::nullopt) << text;
    const auto fingering = parse_printed_of_any_flute(text);
    ASSERT_TRUE(fingering) << text;
    EXPECT_EQ(printed(*fingering), text);
  }
  EXPECT_EQ(parse_printed_of_any_flute("三メ↓20"), parse_printed("三メ↓20"));
  for (const std::string_view text : {"", "la", "いろ", "い20", "メ", "-", "い↓", "い "}) {
    EXPECT_EQ(parse_printed_of_any_flute(text), std::nullopt) << text;
  }
}

}  // namespace
}  // namespace yubifu::model
