// The usual dynamics and what they do.
#include <algorithm>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "model/words.h"

namespace yubifu::model {
namespace {

TEST(Dynamics, LevelsAreEvenStepsFromMezzoforte) {
  const std::vector<std::string> levels{"pppppp", "ppppp", "pppp",  "ppp",   "pp",
                                        "p",      "mp",    "mf",    "f",     "ff",
                                        "fff",    "ffff",  "fffff", "ffffff"};
  for (std::size_t i = 0; i < levels.size(); ++i) {
    const auto meaning = dynamic_meaning(levels[i]);
    ASSERT_TRUE(meaning) << levels[i];
    EXPECT_EQ(meaning->steps, static_cast<int>(i) - 7) << levels[i];
    EXPECT_FALSE(meaning->forced) << levels[i];
  }
}

TEST(Dynamics, ForcedOnesStrikeANoteAndMayGoOnSoftly) {
  for (const char* word : {"sf", "sfz", "sffz", "fz", "rf", "rfz"}) {
    ASSERT_TRUE(dynamic_meaning(word)) << word;
    EXPECT_EQ(dynamic_meaning(word)->steps, std::nullopt) << word;
    EXPECT_TRUE(dynamic_meaning(word)->forced) << word;
  }
  for (const char* word : {"fp", "sfp", "sfzp"}) {
    EXPECT_EQ(dynamic_meaning(word)->steps, -2) << word;
    EXPECT_TRUE(dynamic_meaning(word)->forced) << word;
  }
  EXPECT_EQ(dynamic_meaning("sfpp")->steps, -3);
}

TEST(Dynamics, KnowsUsualWordsThatSayNoLevel) {
  const auto words = dynamic_words();
  for (const char* word : {"n", "pf"}) {
    EXPECT_EQ(dynamic_meaning(word), std::nullopt);
    EXPECT_EQ(std::count(words.begin(), words.end(), word), 1);
  }
  EXPECT_EQ(dynamic_meaning("loud"), std::nullopt);
  EXPECT_EQ(dynamic_meaning(""), std::nullopt);
}

}  // namespace
}  // namespace yubifu::model
