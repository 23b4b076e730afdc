#include "model/meter.h"

#include <utility>
#include <vector>

#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

TEST(Meter, IsWrittenAndRead) {
  EXPECT_EQ(parse_meter("4/4"), (Meter{4, 4}));
  EXPECT_EQ(parse_meter("6/8"), (Meter{6, 8}));
  EXPECT_EQ(parse_meter("64/128"), (Meter{64, 128}));
  EXPECT_EQ(parse_meter("1/1"), (Meter{1, 1}));
  EXPECT_EQ(parse_meter("free"), Meter::free_time());
  EXPECT_EQ(to_text(Meter{6, 8}), "6/8");
  EXPECT_EQ(to_text(Meter::free_time()), "free");
  for (const char* text : {"", "4", "/", "4/", "/4", "0/4", "65/4", "4/0", "4/3", "4/256", "-4/4",
                           "4/-4", "4/4/4", "Free", "4 / 4", "3.5/4", "C", "4/4 "}) {
    EXPECT_EQ(parse_meter(text), std::nullopt) << text;
  }
}

TEST(Meter, HasALengthInQuarters) {
  EXPECT_EQ((Meter{4, 4}).length(), Rational(4));
  EXPECT_EQ((Meter{6, 8}).length(), Rational(3));
  EXPECT_EQ((Meter{3, 2}).length(), Rational(6));
  EXPECT_EQ((Meter{7, 16}).length(), Rational(7, 4));
  EXPECT_EQ(Meter::free_time().length(), Rational(0));
  EXPECT_TRUE(Meter::free_time().is_free());
  EXPECT_FALSE((Meter{1, 4}).is_free());
}

TEST(Beat, IsOneOverTheDenominatorUnlessGiven) {
  EXPECT_EQ(default_beat({4, 4}), Rational(1));
  EXPECT_EQ(default_beat({6, 8}), Rational(1, 2));
  EXPECT_EQ(default_beat({2, 2}), Rational(2));
  EXPECT_EQ(default_beat({3, 128}), Rational(1, 32));
  EXPECT_EQ(default_beat(Meter::free_time()), Rational(1));
}

TEST(Beat, IsWrittenAndRead) {
  struct Row {
    const char* text;
    Rational quarters;
  };
  for (const auto& [text, quarters] : std::vector<Row>{
           {"1/4", 1}, {"3/8", Rational(3, 2)}, {"1/1", 4}, {"2/1", 8}, {"1/12", Rational(1, 3)}}) {
    EXPECT_EQ(parse_beat(text), quarters) << text;
    EXPECT_EQ(beat_text(quarters), text);
  }
  EXPECT_EQ(parse_beat("2/8"), Rational(1));
  EXPECT_EQ(parse_beat("1"), Rational(4));
  EXPECT_EQ(parse_beat("1/1000000"), Rational(1, 250'000));
  for (const char* text : {"", "0", "0/4", "-1/4", "3", "17/8", "1/0", "x", "1/1000001",
                           "9223372036854775807/9223372036854775806"}) {
    EXPECT_EQ(parse_beat(text), std::nullopt) << text;
  }
}

TEST(Beat, DividesAMeterThatHoldsItAWholeNumberOfTimes) {
  EXPECT_TRUE(divides(1, {4, 4}));
  EXPECT_TRUE(divides(Rational(3, 2), {6, 8}));
  EXPECT_TRUE(divides(Rational(1, 3), {1, 4}));
  EXPECT_TRUE(divides(3, {3, 4}));
  EXPECT_FALSE(divides(Rational(3, 2), {4, 4}));
  EXPECT_FALSE(divides(2, {3, 4}));
  EXPECT_FALSE(divides(4, {3, 4}));
  EXPECT_TRUE(divides(Rational(5, 7), Meter::free_time()));
}

TEST(Beat, TheFeltOneIsTheDottedQuarterInCompoundMeters) {
  const Rational eighth(1, 2);
  for (const int beats : {6, 9, 12}) EXPECT_EQ(felt_beat({beats, 8}, eighth), Rational(3, 2));
  for (const int beats : {3, 4, 5, 7, 8, 15}) EXPECT_EQ(felt_beat({beats, 8}, eighth), eighth);
  EXPECT_EQ(felt_beat({6, 4}, 1), Rational(1));
  EXPECT_EQ(felt_beat({6, 16}, Rational(1, 4)), Rational(1, 4));
  EXPECT_EQ(felt_beat(Meter::free_time(), 1), Rational(1));
}

TEST(Tempo, IsWrittenAndRead) {
  const Rational usual(3, 2);
  EXPECT_EQ(parse_tempo("76", usual), (Tempo{76, usual}));
  EXPECT_EQ(parse_tempo("92.5", usual), (Tempo{Rational(185, 2), usual}));
  EXPECT_EQ(parse_tempo("1/8=180", usual), (Tempo{180, Rational(1, 2)}));
  EXPECT_EQ(parse_tempo("1/128=1000", usual), (Tempo{1000, Rational(1, 32)}));
  EXPECT_EQ(parse_tempo("2/1=0.5", usual), (Tempo{Rational(1, 2), 8}));
  EXPECT_EQ(to_text(Tempo{76, usual}, usual), "76");
  EXPECT_EQ(to_text(Tempo{180, Rational(1, 2)}, usual), "1/8=180");
  EXPECT_EQ(to_text(Tempo{Rational(185, 2), 1}, usual), "1/4=92.5");
  for (const char* text : {"", "0", "-5", "1000.5", "1001", "fast", "=90", "1/8=", "1/129=90",
                           "3/1=90", "0/4=90", "1/8==90", "1/8=90=2", "90 ", "1/4 = 90"}) {
    EXPECT_EQ(parse_tempo(text, usual), std::nullopt) << text;
  }
}

TEST(Tempo, IsComparedInQuarters) {
  EXPECT_EQ((Tempo{60, Rational(3, 2)}).quarters_per_minute(), Rational(90));
  EXPECT_EQ(kDefaultTempo.quarters_per_minute(), Rational(120));
}

}  // namespace
}  // namespace yubifu::model
