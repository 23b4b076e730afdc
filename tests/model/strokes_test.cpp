#include "model/strokes.h"

#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

// Measures of one meter and beat, without notes.
Score measures(std::size_t count, Meter meter, Rational beat) {
  Score score;
  score.header.meter = meter;
  for (std::size_t i = 0; i < count; ++i) {
    Measure measure;
    measure.meter = meter;
    measure.beat = beat;
    measure.length = meter.length();
    score.measures.push_back(measure);
  }
  return score;
}

int held(const Score& score, std::size_t measure, Rational onset, Rational duration) {
  Note note;
  note.measure = measure;
  note.onset = onset;
  note.duration = duration;
  return held_beats(score, note);
}

// The texts of the design's section on strokes: ／ for one held beat, ＿ and ｜ in turn for more.
TEST(Strokes, OneIsDiagonalAndMoreTakeTurns) {
  EXPECT_EQ(stroke_text(0), "");
  EXPECT_EQ(stroke_text(1), "／");
  EXPECT_EQ(stroke_text(2), "＿｜");
  EXPECT_EQ(stroke_text(3), "＿｜＿");
  EXPECT_EQ(stroke_text(4), "＿｜＿｜");
}

TEST(Strokes, ANoteOnTheBeatCountsTheBeatsAfterItsOwn) {
  const Score score = measures(2, {4, 4}, 1);
  EXPECT_EQ(held(score, 0, 0, 1), 0);
  EXPECT_EQ(held(score, 0, 0, Rational(1, 2)), 0);
  EXPECT_EQ(held(score, 0, 0, Rational(3, 2)), 0);
  EXPECT_EQ(held(score, 0, 0, 2), 1);
  EXPECT_EQ(held(score, 0, 1, 3), 2);
}

TEST(Strokes, ANoteOffTheBeatCountsFromTheNextBeat) {
  const Score score = measures(2, {4, 4}, 1);
  EXPECT_EQ(held(score, 0, Rational(1, 2), Rational(1, 2)), 0);
  EXPECT_EQ(held(score, 0, Rational(1, 2), Rational(3, 2)), 1);
  EXPECT_EQ(held(score, 0, Rational(1, 2), 2), 1);
  EXPECT_EQ(held(score, 0, Rational(1, 2), Rational(5, 2)), 2);
}

TEST(Strokes, CountingGoesOnOverTheBarLine) {
  const Score score = measures(3, {3, 4}, 1);
  EXPECT_EQ(held(score, 0, 2, 3), 2);
  EXPECT_EQ(held(score, 0, Rational(5, 2), Rational(3, 2)), 1);
  EXPECT_EQ(held(score, 0, 0, 9), 8);
}

// Our choice: strokes are those that were written, so a held dotted quarter is one stroke where a
// number lasts one, and three where it lasts an eighth.
TEST(Strokes, CountTheBeatInForce) {
  const Score by_dotted_quarters = measures(1, {6, 8}, Rational(3, 2));
  EXPECT_EQ(held(by_dotted_quarters, 0, 0, Rational(3, 2)), 0);
  EXPECT_EQ(held(by_dotted_quarters, 0, 0, 3), 1);
  const Score by_eighths = measures(1, {6, 8}, Rational(1, 2));
  EXPECT_EQ(held(by_eighths, 0, 0, Rational(3, 2)), 2);
  EXPECT_EQ(held(by_eighths, 0, 0, 3), 5);
  const Score by_halves = measures(1, {4, 4}, 2);
  EXPECT_EQ(held(by_halves, 0, 0, 4), 1);
}

TEST(Strokes, TheIncompleteBeatOfAPickupIsNone) {
  Score score = measures(2, {4, 4}, 1);
  score.measures[0].length = Rational(3, 2);
  EXPECT_EQ(held(score, 0, 0, Rational(3, 2)), 1);
  EXPECT_EQ(held(score, 0, Rational(1, 2), 2), 1);
}

TEST(Strokes, ANewBeatCountsFromItsPlace) {
  Score score = measures(1, {4, 4}, 1);
  Direction change;
  change.onset = 2;
  change.value = BeatChange{Rational(1, 2)};
  score.directions.push_back(change);
  EXPECT_EQ(held(score, 0, 0, 4), 1 + 4);
  EXPECT_EQ(held(score, 0, 2, 1), 1);
}

TEST(Strokes, ANewBeatMayFollowTheIncompleteOneOfAPickup) {
  Score score = measures(2, {4, 4}, 1);
  score.measures[0].length = Rational(3, 2);
  Direction change;
  change.onset = Rational(1, 2);
  change.value = BeatChange{Rational(1, 2)};
  score.directions.push_back(change);
  EXPECT_EQ(held(score, 0, Rational(1, 2), 1), 1);
}

TEST(Strokes, AreTakenOffAnnotation) {
  EXPECT_EQ(without_strokes("五＿｜"), "五");
  EXPECT_EQ(without_strokes("三メ↓20／"), "三メ↓20");
  EXPECT_EQ(without_strokes("一"), "一");
  EXPECT_EQ(without_strokes(""), "");
}

}  // namespace
}  // namespace yubifu::model
