// The two-way word tables, and the nearest word to an unknown one.
#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/word_table.h"

namespace yubifu::base {
namespace {

using testing::ElementsAre;

enum class Season { spring, summer, winter };

constexpr auto kSeasons = word_table<Season>({
    {Season::spring, "spring"},
    {Season::summer, "summer"},
    {Season::spring, "春"},
});

TEST(WordTable, LooksUpBothWays) {
  static_assert(kSeasons.word_of(Season::summer) == "summer");
  EXPECT_EQ(kSeasons.word_of(Season::spring), "spring");
  EXPECT_EQ(kSeasons.word_of(Season::winter), "");
  EXPECT_EQ(kSeasons.value_of("春"), Season::spring);
  EXPECT_EQ(kSeasons.value_of("spring"), Season::spring);
  EXPECT_EQ(kSeasons.value_of("Spring"), std::nullopt);
  EXPECT_EQ(kSeasons.value_of(""), std::nullopt);
  EXPECT_THAT(kSeasons.words(), ElementsAre("spring", "summer", "春"));
}

const std::vector<std::string_view> kKnown{"title", "tempo", "meter", "beat",
                                           "key",   "調子",  "題名"};

std::string nearest(std::string_view word) {
  return std::string(nearest_word(word, kKnown).value_or("nothing"));
}

TEST(NearestWord, IsOneEditAway) {
  EXPECT_EQ(nearest("titel"), "title");  // neighbours swapped
  EXPECT_EQ(nearest("temp"), "tempo");
  EXPECT_EQ(nearest("tempoo"), "tempo");
  EXPECT_EQ(nearest("tampo"), "tempo");
  EXPECT_EQ(nearest("metre"), "meter");
  EXPECT_EQ(nearest("ky"), "key");
}

TEST(NearestWord, MayDifferByAThird) {
  const std::vector<std::string_view> candidates{"irregular"};
  EXPECT_EQ(nearest_word("iregulr", candidates), "irregular");       // two of seven
  EXPECT_EQ(nearest_word("iregul", candidates), std::nullopt);       // three of six
  EXPECT_EQ(nearest_word("irrregularer", candidates), "irregular");  // three of twelve
}

TEST(NearestWord, IsNothingForAnotherWord) {
  EXPECT_EQ(nearest("flute"), "nothing");
  EXPECT_EQ(nearest(""), "nothing");
  EXPECT_EQ(nearest("x"), "nothing");
  EXPECT_EQ(nearest_word("x", {"y"}), std::nullopt);
  EXPECT_EQ(nearest_word("mg", {"mf"}), "mf");
  EXPECT_EQ(nearest_word("title", {}), std::nullopt);
}

TEST(NearestWord, CountsCharactersAndNotBytes) {
  // One kanji of two is one edit; in bytes it would be up to three of six.
  EXPECT_EQ(nearest("調了"), "調子");
  EXPECT_EQ(nearest("題"), "題名");
  // Two kanji that share bytes but are other characters.
  EXPECT_EQ(nearest("謌孑"), "nothing");
  EXPECT_EQ(nearest_word("指打", {"指打ち", "スリ"}), "指打ち");
}

TEST(NearestWord, LongWordsAreNotCompared) {
  const std::string longest(64, 'a');
  const std::string too_long(65, 'a');
  EXPECT_EQ(nearest_word(longest, {std::string_view(longest)}), longest);
  EXPECT_EQ(nearest_word(too_long, {std::string_view(too_long)}), std::nullopt);
  EXPECT_EQ(nearest_word(longest, {std::string_view(too_long)}), std::nullopt);
}

TEST(NearestWord, SurvivesBytesThatAreNoText) {
  EXPECT_EQ(nearest("\xFF\xFEmpo"), "nothing");
  EXPECT_EQ(nearest("t\xFFmpo"), "tempo");
}

}  // namespace
}  // namespace yubifu::base
