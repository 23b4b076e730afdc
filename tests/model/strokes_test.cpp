#include "model/strokes.h"

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

using testing::ElementsAre;

// A note or, where it has no duration in the list, a rest: its length in quarters.
struct Length {
  Rational quarters;
  bool rest = false;
};

// Bars of one meter and beat, filled with notes of these lengths one after another.
Score bars(Meter meter, Rational beat, const std::vector<Length>& lengths) {
  Score score;
  score.header.meter = meter;
  Rational at;
  const auto bar = [&](std::size_t index) {
    while (score.measures.size() <= index) {
      Measure measure;
      measure.meter = meter;
      measure.beat = beat;
      measure.length = meter.length();
      score.measures.push_back(measure);
    }
  };
  for (const Length& length : lengths) {
    const std::int64_t passed = (at / meter.length()).floor();
    Note note;
    note.measure = static_cast<std::size_t>(passed);
    note.onset = at - Rational(passed) * meter.length();
    note.duration = length.quarters;
    if (!length.rest) score.notes.push_back(note);
    at = at + length.quarters;
    bar(static_cast<std::size_t>((at / meter.length()).ceil()) - 1);
  }
  return score;
}

std::vector<std::string> texts(Meter meter, Rational beat, const std::vector<Length>& lengths) {
  return stroke_texts(bars(meter, beat, lengths));
}

const Rational kHalf(1, 2);
const Rational kQuarter(1, 4);

// The texts of number notation as this program writes them: ／ for one held beat, ＿ and ｜ in turn
// for more (common practice of one school; the characters are our choice).
TEST(Strokes, OneHeldBeatIsDiagonalAndMoreTakeTurns) {
  EXPECT_THAT(texts({4, 4}, 1, {{1}, {2}, {1}, {3}, {1}, {4}}),
              ElementsAre("", "／", "", "＿｜", "", "＿｜＿"));
}

TEST(Strokes, CountingGoesOnOverTheBarLine) {
  EXPECT_THAT(texts({3, 4}, 1, {{2}, {3}, {1}}), ElementsAre("／", "＿｜", ""));
}

TEST(Strokes, PartsOfABeatHaveBars) {
  EXPECT_THAT(texts({4, 4}, 1, {{kHalf}, {kHalf}, {kQuarter}, {kQuarter}, {kHalf}, {2}}),
              ElementsAre("′", "′", "″", "″", "′", "／"));
  EXPECT_THAT(texts({2, 4}, 1, {{Rational(1, 8)}, {Rational(7, 8)}, {1}}),
              ElementsAre("″′", "″′／″／′", ""));
}

// A dotted quarter and an eighth; an eighth and a dotted quarter; the same over a beat.
TEST(Strokes, DottedRhythmsCanBeRead) {
  EXPECT_THAT(texts({4, 4}, 1, {{Rational(3, 2)}, {kHalf}, {kHalf}, {Rational(3, 2)}}),
              ElementsAre("／′", "′", "′", "′／"));
  EXPECT_THAT(texts({2, 4}, 1, {{Rational(3, 4)}, {kQuarter}, {1}}), ElementsAre("′／″", "″", ""));
}

TEST(Strokes, UnevenDivisionsHaveTheirNumber) {
  const Rational third(1, 3);
  EXPECT_THAT(texts({2, 4}, 1, {{third}, {third}, {third}, {Rational(2, 3)}, {third}}),
              ElementsAre("′³", "′³", "′³", "′³／′³", "′³"));
  EXPECT_THAT(texts({2, 4}, 1, {{Rational(2, 3)}, {Rational(2, 3)}, {Rational(2, 3)}}),
              ElementsAre("³", "³", "³"));
}

// A held dotted quarter is one stroke where a number lasts one, and three where it lasts an eighth.
TEST(Strokes, CountTheBeatInForce) {
  EXPECT_THAT(texts({6, 8}, Rational(3, 2), {{Rational(3, 2)}, {Rational(3, 2)}, {3}}),
              ElementsAre("", "", "／"));
  EXPECT_THAT(texts({6, 8}, kHalf, {{Rational(3, 2)}, {Rational(3, 2)}, {3}}),
              ElementsAre("＿｜", "＿｜", "＿｜＿｜＿"));
  Score score = bars({4, 4}, 1, {{4}});
  score.directions.push_back({0, 2, BeatChange{kHalf}, {}});
  EXPECT_THAT(stroke_texts(score), ElementsAre("＿｜＿｜＿"));
}

TEST(Strokes, ABarTooFineHasNone) {
  const Score score = bars({1, 4}, 1, {{Rational(1, 101)}, {Rational(1, 103)}, {1}});
  EXPECT_EQ(stroke_texts(score).front(), "");
}

TEST(Strokes, AreTakenOffAnnotation) {
  EXPECT_EQ(without_strokes("五＿｜"), "五");
  EXPECT_EQ(without_strokes("三メ↓20／"), "三メ↓20");
  EXPECT_EQ(without_strokes("三メ↓20″′／′³"), "三メ↓20");
  EXPECT_EQ(without_strokes("5″⁵"), "5");
  EXPECT_EQ(without_strokes("一"), "一");
  EXPECT_EQ(without_strokes(""), "");
}

}  // namespace
}  // namespace yubifu::model
