#include <gmock/gmock.h>

#include "model/form_helpers.h"
#include "model/play_out.h"
#include "model/rules.h"
#include "support/small_score.h"
#include "support/text.h"

namespace yubifu::model {
namespace {

using support::low_tone;
using support::rule_names;
using support::small_score;
using testing::ElementsAre;
using testing::IsEmpty;

// The order as letters: measure 0 is A. Nothing may be reported.
std::string order_of(const Score& score) {
  const auto order = played_order(score);
  EXPECT_THAT(rule_names(order.diagnostics), IsEmpty());
  std::string letters;
  for (const std::size_t measure : *order.value) letters += static_cast<char>('A' + measure);
  return letters;
}

// The order together with the one rule that is reported.
std::string faulty_order_of(const Score& score, const base::Rule& rule) {
  const auto order = played_order(score);
  EXPECT_THAT(rule_names(order.diagnostics), ElementsAre(rule.name));
  std::string letters;
  for (const std::size_t measure : *order.value) letters += static_cast<char>('A' + measure);
  return letters;
}

class PlayedOrder : public testing::Test {
 protected:
  void repeat(std::size_t first, std::size_t last, int times = 2) {
    score_.measures[first].repeat_start = true;
    end(last, times);
  }
  void end(std::size_t last, int times = 2) {
    score_.measures[last].repeat_end = true;
    score_.measures[last].times = times;
  }
  void ending(std::size_t measure, std::vector<int> numbers) {
    score_.measures[measure].ending = std::move(numbers);
  }

  Score score_ = small_score(6);
};

TEST_F(PlayedOrder, OfAScoreWithoutSigns) {
  EXPECT_EQ(order_of(score_), "ABCDEF");
  EXPECT_EQ(order_of(Score{}), "");
}

TEST_F(PlayedOrder, OfRepeats) {
  repeat(1, 2);
  EXPECT_EQ(order_of(score_), "ABCBCDEF");
  repeat(3, 3, 4);
  EXPECT_EQ(order_of(score_), "ABCBCDDDDEF");
}

TEST_F(PlayedOrder, ARepeatWithoutStartGoesBackToTheBeginning) {
  end(1);
  EXPECT_EQ(order_of(score_), "ABABCDEF");
}

TEST_F(PlayedOrder, ARepeatWithoutStartGoesBackToThePlaceAfterTheOneBefore) {
  end(1);
  end(3);
  EXPECT_EQ(faulty_order_of(score_, rule::repeat_without_start), "ABABCDCDEF");
}

TEST_F(PlayedOrder, OfEndings) {
  score_.measures[1].repeat_start = true;
  ending(2, {1});
  end(2);
  ending(3, {2});
  EXPECT_EQ(order_of(score_), "ABCBDEF");
}

TEST_F(PlayedOrder, AnEndingOfSeveralMeasures) {
  ending(1, {1});
  ending(2, {1});
  end(2);
  ending(3, {2});
  ending(4, {2});
  EXPECT_EQ(order_of(score_), "ABCADEF");
}

TEST_F(PlayedOrder, TheLastTimeMayHaveNoEnding) {
  ending(1, {1});
  end(1);
  EXPECT_EQ(order_of(score_), "ABACDEF");
}

TEST_F(PlayedOrder, AnEndingForTheFirstAndThirdTime) {
  score_.measures[1].repeat_start = true;
  ending(2, {1, 3});
  end(2);
  ending(3, {2});
  end(3);
  // After the third time the ending of the second is passed over.
  EXPECT_EQ(order_of(score_), "ABCBDBCEF");
}

TEST_F(PlayedOrder, AnEndingForSeveralTimes) {
  ending(1, {1, 2});
  end(1, 3);
  ending(2, {3});
  EXPECT_EQ(order_of(score_), "ABABACDEF");
}

TEST_F(PlayedOrder, ThreeEndings) {
  ending(1, {1});
  end(1);
  ending(2, {2});
  end(2);
  ending(3, {3});
  EXPECT_EQ(order_of(score_), "ABACADEF");
}

TEST_F(PlayedOrder, ARepeatAfterTheEndingsGoesBackToItsOwnStart) {
  ending(1, {1});
  end(1);
  ending(2, {2});
  repeat(3, 4);
  EXPECT_EQ(order_of(score_), "ABACDEDEF");
}

TEST_F(PlayedOrder, AFirstEndingAfterASecondOneBelongsToTheNextRepeat) {
  ending(1, {1});
  end(1);
  ending(2, {2});
  ending(3, {1});
  end(3);
  ending(4, {2});
  EXPECT_EQ(faulty_order_of(score_, rule::repeat_without_start), "ABACDEF");
}

TEST_F(PlayedOrder, EndingsThatLeaveATimeOut) {
  ending(1, {1});
  end(1);
  ending(2, {3});
  EXPECT_EQ(faulty_order_of(score_, rule::ending_never_played), "ABADEF");
}

TEST_F(PlayedOrder, TwoEndingsForOneTime) {
  ending(1, {1});
  end(1);
  ending(2, {2});
  end(2);
  ending(3, {2, 3});
  EXPECT_EQ(faulty_order_of(score_, rule::ending_never_played), "ABACADEF");
}

TEST_F(PlayedOrder, AnEndingThatDoesNotLeadBack) {
  ending(1, {1, 3});
  end(1);
  ending(2, {2});
  EXPECT_EQ(faulty_order_of(score_, rule::ending_never_played), "ABACDEF");
}

TEST_F(PlayedOrder, AnEndingOutsideOfRepeats) {
  ending(2, {1});
  EXPECT_EQ(faulty_order_of(score_, rule::ending_without_repeat), "ABCDEF");
}

TEST_F(PlayedOrder, WhatLooksNestedIsNot) {
  score_.measures[0].repeat_start = true;
  repeat(1, 2);
  EXPECT_EQ(faulty_order_of(score_, rule::unpaired_repeat), "ABCBCDEF");
  end(4);
  const auto order = played_order(score_);
  EXPECT_THAT(rule_names(order.diagnostics),
              ElementsAre(rule::unpaired_repeat.name, rule::repeat_without_start.name));
  EXPECT_THAT(*order.value, ElementsAre(0, 1, 2, 1, 2, 3, 4, 3, 4, 5));
}

TEST_F(PlayedOrder, AStartWithoutEnd) {
  score_.measures[3].repeat_start = true;
  EXPECT_EQ(faulty_order_of(score_, rule::unpaired_repeat), "ABCDEF");
}

TEST_F(PlayedOrder, DaCapo) {
  score_.directions = {cue(5, Cue::da_capo)};
  EXPECT_EQ(order_of(score_), "ABCDEFABCDEF");
}

TEST_F(PlayedOrder, DaCapoAlFine) {
  score_.directions = {cue(2, Cue::fine), cue(5, Cue::da_capo)};
  EXPECT_EQ(order_of(score_), "ABCDEFABC");
}

TEST_F(PlayedOrder, DalSegnoAlFine) {
  score_.directions = {cue(1, Cue::segno), cue(2, Cue::fine), cue(5, Cue::dal_segno)};
  EXPECT_EQ(order_of(score_), "ABCDEFBC");
}

TEST_F(PlayedOrder, DaCapoAlCoda) {
  score_.directions = {cue(1, Cue::to_coda), cue(3, Cue::da_capo), cue(4, Cue::coda)};
  EXPECT_EQ(order_of(score_), "ABCDABEF");
}

TEST_F(PlayedOrder, DalSegnoAlCoda) {
  score_.directions = {cue(1, Cue::segno), cue(2, Cue::to_coda), cue(3, Cue::dal_segno),
                       cue(5, Cue::coda)};
  EXPECT_EQ(order_of(score_), "ABCDBCF");
}

TEST_F(PlayedOrder, TheNearestSegnoIsMeant) {
  score_.directions = {cue(0, Cue::segno), cue(3, Cue::segno), cue(4, Cue::dal_segno)};
  EXPECT_EQ(order_of(score_), "ABCDEDEF");
}

TEST_F(PlayedOrder, FineAndToCodaCountOnlyAfterAJump) {
  score_.directions = {cue(1, Cue::fine), cue(2, Cue::to_coda), cue(4, Cue::coda)};
  EXPECT_EQ(order_of(score_), "ABCDEF");
}

TEST_F(PlayedOrder, AfterAJumpRepeatsAreNotTakenAndTheLastEndingIsPlayed) {
  repeat(0, 0);
  score_.measures[1].repeat_start = true;
  ending(2, {1});
  end(2);
  ending(3, {2});
  score_.directions = {cue(4, Cue::da_capo)};
  EXPECT_EQ(order_of(score_), "AABCBDEABDEF");
}

TEST_F(PlayedOrder, AJumpInsideARepeatWaitsForTheLastTime) {
  repeat(1, 2);
  score_.directions = {cue(2, Cue::da_capo)};
  EXPECT_EQ(order_of(score_), "ABCBCABCDEF");
}

TEST_F(PlayedOrder, AJumpInAnEndingForSeveralTimesWaitsForTheLastOfThem) {
  ending(1, {1, 2});
  ending(2, {1, 2});
  end(2, 3);
  ending(3, {3});
  score_.directions = {cue(1, Cue::da_capo)};
  EXPECT_EQ(order_of(score_), "ABCABADEF");
}

TEST_F(PlayedOrder, AJumpInTheFirstEndingIsTakenThere) {
  ending(1, {1});
  end(1);
  ending(2, {2});
  score_.directions = {cue(1, Cue::da_capo)};
  // The repeat sign comes first; its ending is not reached again.
  EXPECT_EQ(order_of(score_), "ABACDEF");
}

TEST_F(PlayedOrder, MutualJumpsEnd) {
  score_.directions = {cue(0, Cue::segno), cue(1, Cue::dal_segno), cue(2, Cue::segno),
                       cue(3, Cue::da_capo), cue(4, Cue::dal_segno)};
  EXPECT_EQ(order_of(score_), "ABABCDABCDECDEF");
}

TEST_F(PlayedOrder, JumpsWithoutTarget) {
  score_.directions = {cue(1, Cue::dal_segno), cue(2, Cue::segno)};
  EXPECT_EQ(faulty_order_of(score_, rule::jump_without_target), "ABCDEF");
  score_.directions = {cue(1, Cue::coda), cue(2, Cue::to_coda), cue(3, Cue::da_capo)};
  EXPECT_EQ(faulty_order_of(score_, rule::jump_without_target), "ABCDABCDEF");
}

TEST_F(PlayedOrder, HasALimit) {
  repeat(0, 0, 2'000'000'000);
  const auto order = played_order(score_);
  EXPECT_THAT(rule_names(order.diagnostics), ElementsAre(rule::played_too_long.name));
  EXPECT_EQ(order.value->size(), kMostPlayedMeasures);
  EXPECT_FALSE(order.ok());
}

TEST_F(PlayedOrder, HasALimitOfNotes) {
  score_.notes.clear();
  for (int i = 0; i < 4000; ++i) {
    Note note;
    note.onset = Rational(i, 1000);
    note.duration = Rational(1, 1000);
    note.tone = low_tone(3);
    score_.notes.push_back(note);
  }
  repeat(0, 0, 1000);
  const auto order = played_order(score_);
  EXPECT_THAT(rule_names(order.diagnostics), ElementsAre(rule::played_too_long.name));
  EXPECT_EQ(order.value->size(), kMostPlayedNotes / 4000);
}

TEST_F(PlayedOrder, NamesTheMeasure) {
  score_.measures[3].repeat_start = true;
  score_.measures[3].source = {10, 20};
  const auto order = played_order(score_);
  EXPECT_THAT(order.diagnostics[0].measures, ElementsAre("4"));
  EXPECT_EQ(order.diagnostics[0].where, (base::SourceRange{10, 20}));
}

}  // namespace
}  // namespace yubifu::model
