// Directions and their words and values; the usual dynamics and what they do.
#include "model/direction.h"

#include <algorithm>
#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

TEST(Direction, EveryWordHasItsKind) {
  for (const std::string_view word : direction_words()) {
    ASSERT_TRUE(direction_kind(word)) << word;
    EXPECT_EQ(direction_kind(word)->word, word);
    if (const auto cue = cue_named(word)) {
      EXPECT_EQ(word_of(*cue), word);
    }
  }
  EXPECT_FALSE(direction_kind("fermata"));
  EXPECT_FALSE(direction_kind(""));
}

TEST(Direction, ValuesAreReadAsTheyAreWritten) {
  const std::vector<std::pair<DirectionValue, std::string>> known{
      {TempoChange{{76, 1}}, "1/4=76"},
      {TempoChange{{{20'000'000, 166'667}, Rational(3, 2)}}, "3/8=20000000/166667"},
      {BeatChange{Rational(3, 2)}, "3/8"},
      {KeyChange{*parse_key("D minor")}, "D minor"},
      {FluteChange{*parse_flute_name("7.5")}, "7.5"},
      {SectionStart{"A \"1\""}, "A \"1\""},
      {TextDirection{"slowly"}, "slowly"},
      {Dynamic{"mf"}, "mf"},
      {Cue::to_coda, ""}};
  for (const auto& [value, text] : known) {
    EXPECT_EQ(value_text(value), text) << word_of(value);
    EXPECT_EQ(parse_direction(word_of(value), text, 1), value) << text;
  }
}

TEST(Direction, ATempoWithoutItsUnitCountsTheOneGiven) {
  EXPECT_EQ(parse_direction("tempo", "60", Rational(3, 2)),
            DirectionValue(TempoChange{{60, Rational(3, 2)}}));
}

TEST(Direction, OtherTextsAreNoValues) {
  EXPECT_FALSE(parse_direction("tempo", "0", 1));
  EXPECT_FALSE(parse_direction("tempo", "17/0=60", 1));
  EXPECT_FALSE(parse_direction("beat", "3/", 1));
  EXPECT_FALSE(parse_direction("key", "H", 1));
  EXPECT_FALSE(parse_direction("rit", "slowly", 1));
  EXPECT_FALSE(parse_direction("loud", "f", 1));
}

// A section or a flute begins with a bar; jumps leave it; what sets a value stands there once.
TEST(Direction, KindsHaveTheirPlaces) {
  const auto place = [](std::string_view word) { return direction_kind(word)->place; };
  for (const char* word : {"flute", "section", "segno", "coda"}) {
    EXPECT_EQ(place(word), PlaceInMeasure::start) << word;
  }
  for (const char* word : {"fine", "dc", "ds", "to-coda", "until-cue"}) {
    EXPECT_EQ(place(word), PlaceInMeasure::end) << word;
  }
  for (const char* word : {"tempo", "key", "text", "dyn", "rit", "accel", "a-tempo", "caesura"}) {
    EXPECT_EQ(place(word), PlaceInMeasure::anywhere) << word;
  }
  EXPECT_EQ(place("beat"), PlaceInMeasure::inside);
  for (const std::string_view word : direction_words()) {
    const bool sets = word == "tempo" || word == "beat" || word == "key" || word == "flute";
    EXPECT_EQ(direction_kind(word)->at_one_place == AtOnePlace::one, sets) << word;
  }
}

TEST(Direction, SectionsTextsAndDynamicsHoldAnyText) {
  const DirectionValue section = SectionStart{"A"};
  const DirectionValue text = TextDirection{"fast"};
  const DirectionValue dynamic = Dynamic{"mf"};
  EXPECT_EQ(*free_text(section), "A");
  EXPECT_EQ(*free_text(text), "fast");
  EXPECT_EQ(*free_text(dynamic), "mf");
  const DirectionValue cue = Cue::rit;
  EXPECT_EQ(free_text(cue), nullptr);
}

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
