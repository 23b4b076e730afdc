#include "model/flute_name.h"

#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

FluteName size(Rational number, int cents = 0) {
  return FluteSize{number, cents};
}

TEST(FluteName, KanjiCountFromOneToThirteen) {
  const std::vector<std::string> kanji{"一", "二", "三", "四",   "五",   "六",  "七",
                                       "八", "九", "十", "十一", "十二", "十三"};
  for (std::size_t i = 0; i < kanji.size(); ++i) {
    const FluteName expected = size(static_cast<std::int64_t>(i + 1));
    EXPECT_EQ(parse_flute_name(kanji[i]), expected) << kanji[i];
    EXPECT_EQ(parse_flute_name(kanji[i] + "本"), expected) << kanji[i];
    EXPECT_EQ(parse_flute_name(kanji[i] + "本調子"), expected) << kanji[i];
    const std::string digits = std::to_string(i + 1);
    EXPECT_EQ(parse_flute_name(digits), expected) << digits;
    EXPECT_EQ(parse_flute_name(digits + "本"), expected) << digits;
    EXPECT_EQ(parse_flute_name(digits + "本調子"), expected) << digits;
    EXPECT_EQ(to_text(expected), digits);
  }
}

TEST(FluteName, HalfSizesAndOffsets) {
  struct Row {
    const char* text;
    FluteName name;
    const char* canonical;
  };
  const std::vector<Row> rows{{"7.5", size(Rational(15, 2)), "7.5"},
                              {"7.0", size(7), "7"},
                              {"１０．５", size(Rational(21, 2)), "10.5"},
                              {"7.5本", size(Rational(15, 2)), "7.5"},
                              {"6+15c", size(6, 15), "6+15c"},
                              {"6-8c", size(6, -8), "6-8c"},
                              {"６＋１５ｃ", size(6, 15), "6+15c"},
                              {"６－８ｃ", size(6, -8), "6-8c"},
                              {"6−8c", size(6, -8), "6-8c"},
                              {"六+15c", size(6, 15), "6+15c"},
                              {"六本調子+15c", size(6, 15), "6+15c"},
                              {"7.5+99c", size(Rational(15, 2), 99), "7.5+99c"},
                              {"6+0c", size(6), "6"},
                              {"13", size(13), "13"}};
  for (const auto& [text, name, canonical] : rows) {
    EXPECT_EQ(parse_flute_name(text), name) << text;
    EXPECT_EQ(to_text(name), canonical);
  }
}

TEST(FluteName, PathsOfFluteFiles) {
  EXPECT_EQ(parse_flute_name("village.json"), FluteName(FlutePath{"village.json"}));
  EXPECT_EQ(parse_flute_name("flutes/old"), FluteName(FlutePath{"flutes/old"}));
  EXPECT_EQ(parse_flute_name("六本.json"), FluteName(FlutePath{"六本.json"}));
  EXPECT_EQ(to_text(FlutePath{"flutes/old"}), "flutes/old");
}

TEST(FluteName, OtherTextIsNone) {
  for (const char* text : {"",
                           "0",
                           "14",
                           "0.5",
                           "13.5",
                           "7.25",
                           "-6",
                           "+6",
                           "〇",
                           "十四",
                           "二十",
                           "本",
                           "本調子",
                           "6本本",
                           "調子",
                           "six",
                           "6 ",
                           " 6",
                           "6c",
                           "6+c",
                           "6+100c",
                           "6+15",
                           "6+-5c",
                           "6++5c",
                           "6+1.5c",
                           "6.5.5",
                           "六.5",
                           "6+15c本",
                           "1e1",
                           "village.jsonx",
                           "99999999999999999999"}) {
    EXPECT_EQ(parse_flute_name(text), std::nullopt) << text;
  }
}

// The table of sizes: 6 has 一 on Bb, 8 on C (common practice).
TEST(FluteName, ASizeIsFoundByTheNoteOfIchi) {
  EXPECT_EQ(size_with_ichi("F"), 1);
  EXPECT_EQ(size_with_ichi("Bb"), 6);
  EXPECT_EQ(size_with_ichi("A#"), 6);
  EXPECT_EQ(size_with_ichi("C"), 8);
  EXPECT_EQ(size_with_ichi("C管"), 8);
  EXPECT_EQ(size_with_ichi("E"), 12);
  for (const char* text : {"", "管", "H", "C5", "8", "c", "Cx"}) {
    EXPECT_EQ(size_with_ichi(text), std::nullopt) << text;
  }
}

TEST(FluteName, TheDefaultIsSizeEight) {
  EXPECT_EQ(kDefaultFluteSize.size, Rational(8));
  EXPECT_EQ(kDefaultFluteSize.cents, 0);
}

}  // namespace
}  // namespace yubifu::model
