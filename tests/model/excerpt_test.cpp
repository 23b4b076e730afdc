#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "model/invariants.h"
#include "model/play_out.h"

namespace yubifu::model {
namespace {

using testing::IsEmpty;

// Bars of 4/4 with a note of a quarter on each beat, numbered from 1.
Score bars(int count) {
  Score score;
  score.header.meter = {4, 4};
  for (int i = 0; i < count; ++i) {
    Measure measure;
    measure.length = 4;
    measure.number = std::to_string(i + 1);
    score.measures.push_back(measure);
    for (int beat = 0; beat < 4; ++beat) {
      Note note;
      note.measure = static_cast<std::size_t>(i);
      note.onset = beat;
      note.duration = 1;
      note.tone.fingering = parse_printed("三");
      score.notes.push_back(note);
    }
  }
  return score;
}

TEST(Excerpt, HoldsTheBarsWithTheirNumbers) {
  const auto cut = excerpt(bars(8), 3, 5);
  ASSERT_TRUE(cut);
  ASSERT_EQ(cut->score.measures.size(), 3u);
  EXPECT_EQ(cut->score.measures[0].number, "3");
  EXPECT_EQ(cut->score.measures[2].number, "5");
  EXPECT_EQ(cut->score.notes.size(), 12u);
  EXPECT_EQ(cut->score.notes[0].measure, 0u);
  EXPECT_THAT(broken_invariants(cut->score), IsEmpty());
}

TEST(Excerpt, IsNoneWhereThereAreNoSuchBars) {
  EXPECT_FALSE(excerpt(bars(4), 3, 5));
  EXPECT_FALSE(excerpt(bars(4), 0, 2));
  EXPECT_FALSE(excerpt(bars(4), 3, 2));
}

TEST(Excerpt, BeginsWithWhatIsInForce) {
  Score score = bars(4);
  score.header.tempo = Tempo{90, 1};
  score.directions.push_back({1, 2, TempoChange{Tempo{60, 1}}, {}});
  for (std::size_t i = 2; i < 4; ++i) score.measures[i].beat = 2;
  const auto cut = excerpt(score, 3, 4);
  ASSERT_TRUE(cut);
  EXPECT_EQ(cut->score.header.tempo->per_minute, Rational(60));
  EXPECT_EQ(cut->score.header.beat, Rational(2));
  EXPECT_THAT(cut->score.directions, IsEmpty());
  EXPECT_THAT(broken_invariants(cut->score), IsEmpty());
}

// What is held into the excerpt begins at its start, what is held out of it ends with it.
TEST(Excerpt, CutsNotesAtItsEdges) {
  Score score = bars(4);
  score.notes.erase(score.notes.begin() + 4, score.notes.begin() + 6);
  score.notes[3].duration = 3;
  score.notes[3].syllables = {{"1", "ra", SyllableKind::single, false}};
  score.verses = {"1"};
  score.notes[9].duration = 1;
  score.notes[9].slur_to_next = true;
  const auto cut = excerpt(score, 2, 2);
  ASSERT_TRUE(cut);
  ASSERT_EQ(cut->score.notes.size(), 3u);
  EXPECT_EQ(cut->score.notes[0].onset, Rational(0));
  EXPECT_EQ(cut->score.notes[0].duration, Rational(2));
  EXPECT_THAT(cut->score.notes[0].syllables, IsEmpty());
  EXPECT_THAT(cut->score.verses, IsEmpty());
  const auto before = excerpt(score, 1, 1);
  ASSERT_TRUE(before);
  EXPECT_EQ(before->score.notes[3].duration, Rational(1));
  for (const auto& one : {cut->score, before->score})
    EXPECT_THAT(broken_invariants(one), IsEmpty());
}

}  // namespace
}  // namespace yubifu::model
