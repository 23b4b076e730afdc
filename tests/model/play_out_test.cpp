#include "model/play_out.h"

#include <set>

#include <gmock/gmock.h>

#include "model/invariants.h"
#include "model/rules.h"
#include "model/same_music.h"
#include "support/score_generator.h"
#include "support/small_score.h"
#include "support/text.h"

namespace yubifu::model {
namespace {

using support::low_tone;
using support::small_score;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::Not;

Direction cue(std::size_t measure, Cue value) {
  const bool at_start = value == Cue::segno || value == Cue::coda;
  return {measure, at_start ? 0 : 4, value, {}};
}

std::vector<std::string> rule_names(const base::Diagnostics& diagnostics) {
  std::vector<std::string> names;
  for (const base::Diagnostic& diagnostic : diagnostics) {
    names.emplace_back(diagnostic.rule->name);
  }
  return names;
}

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

// Signs, with their durations in quarters: "三1 五2".
std::string notes_of(const Score& score) {
  std::string text;
  for (const Note& note : score.notes) {
    text += printed(*note.tone.fingering) + to_text(note.duration) + " ";
  }
  return text;
}

class PlayOut : public testing::Test {
 protected:
  // Each measure one whole note of its own sign.
  PlayOut() {
    for (std::size_t i = 0; i < 4; ++i) {
      Measure measure;
      measure.length = 4;
      score_.measures.push_back(measure);
      Note note;
      note.measure = i;
      note.duration = 4;
      note.tone = low_tone(static_cast<int>(i) + 1);
      score_.notes.push_back(note);
    }
    number_measures(score_);
  }

  PlayedScore play(const std::vector<std::string>& rules = {}) const {
    EXPECT_THAT(broken_invariants(score_), IsEmpty());
    auto played = play_out(score_);
    EXPECT_EQ(rule_names(played.diagnostics), rules);
    EXPECT_THAT(broken_invariants(played.value->score), IsEmpty());
    return std::move(*played.value);
  }

  Score score_;
};

TEST_F(PlayOut, UnfoldsRepeatsAndKeepsNumbersAndSections) {
  score_.measures[1].repeat_start = score_.measures[1].repeat_end = true;
  score_.measures[1].times = 3;
  score_.directions = {{1, 0, SectionStart{"A"}, {}}, {1, 2, Dynamic{"p"}, {}}};
  score_.measures[3].right = BarStyle::final;
  const PlayedScore played = play();
  EXPECT_EQ(notes_of(played.score), "一4 二4 二4 二4 三4 四4 ");
  EXPECT_THAT(played.source, ElementsAre(0, 1, 1, 1, 2, 3));
  std::vector<std::string> numbers;
  for (const Measure& measure : played.score.measures) {
    numbers.push_back(measure.number);
    EXPECT_FALSE(measure.repeat_start || measure.repeat_end);
    EXPECT_EQ(measure.times, 2);
  }
  EXPECT_THAT(numbers, ElementsAre("1", "2", "2", "2", "3", "4"));
  EXPECT_EQ(played.score.directions.size(), 6u);
  EXPECT_EQ(played.score.measures.back().right, BarStyle::final);
}

TEST_F(PlayOut, ATieIntoTheRepeatsFirstMeasureIsStruckAnew) {
  score_.measures[1].repeat_start = score_.measures[1].repeat_end = true;
  score_.notes[0].duration = 6;
  score_.notes[1].onset = 2;
  score_.notes[1].duration = 2;
  score_.notes[0].marks = {Mark::uchi};
  score_.notes[0].grace_before = {low_tone(7)};
  score_.verses = {"1"};
  score_.notes[0].syllables = {{"1", "la", SyllableKind::single, false}};
  const PlayedScore played = play({"tie-struck-anew"});
  EXPECT_EQ(notes_of(played.score), "一6 二2 一2 二2 三4 四4 ");
  EXPECT_THAT(played.source, ElementsAre(0, 1, 0, 1, 2, 3));
  EXPECT_THAT(played.score.notes[2].marks, IsEmpty());
  EXPECT_THAT(played.score.notes[2].grace_before, IsEmpty());
  EXPECT_THAT(played.score.notes[2].syllables, IsEmpty());
  EXPECT_EQ(played.score.notes[2].measure, 2u);
}

TEST_F(PlayOut, ATieOverTheRepeatsEndStopsThereTheFirstTime) {
  score_.measures[0].repeat_end = true;
  score_.notes[0].duration = 5;
  score_.notes[1].onset = 1;
  score_.notes[1].duration = 3;
  EXPECT_EQ(notes_of(play().score), "一4 一5 二3 三4 四4 ");
}

TEST_F(PlayOut, ATieIntoTheFirstEndingHoldsAndIntoTheSecondIsStruckAnew) {
  score_.measures[1].ending = {1};
  score_.measures[1].repeat_end = true;
  score_.measures[2].ending = {2};
  score_.notes[0].duration = 6;
  score_.notes[1].onset = 2;
  score_.notes[1].duration = 4;
  score_.notes[2].onset = 2;
  score_.notes[2].duration = 2;
  // The hold in the second ending is the rest of the note at the end of the first.
  EXPECT_EQ(notes_of(play({"tie-struck-anew"}).score), "一6 二2 一4 二2 三2 四4 ");
}

TEST_F(PlayOut, ALongTieOverSeveralBarsIsCutWhereThePlayingLeaves) {
  score_.measures[1].repeat_start = true;
  score_.measures[2].repeat_end = true;
  score_.notes.erase(score_.notes.begin() + 1, score_.notes.begin() + 3);
  score_.notes[0].duration = 12;
  const PlayedScore played = play({"tie-struck-anew"});
  EXPECT_EQ(notes_of(played.score), "一12 一8 四4 ");
}

TEST_F(PlayOut, BringsBackTempoKeyAndFluteOfTheWrittenPlace) {
  score_.header.tempo = Tempo{80, 1};
  score_.header.key = Key{1, Mode::major};
  score_.header.flute = FluteSize{6, 0};
  score_.flutes = {{0, FluteSize{6, 0}, "6", {70, 0}, 440},
                   {2, FluteSize{8, 0}, "8", {72, 0}, 440}};
  score_.directions = {{1, 0, Cue::rit, {}},
                       {2, 0, FluteChange{FluteSize{8, 0}}, {}},
                       {2, 0, TempoChange{{60, 1}}, {}},
                       {3, 1, KeyChange{{2, Mode::major}}, {}},
                       cue(3, Cue::da_capo)};
  const PlayedScore played = play();
  std::vector<Direction> restored;
  for (const Direction& direction : played.score.directions) {
    if (direction.measure == 4) restored.push_back(direction);
  }
  ASSERT_EQ(restored.size(), 3u);
  EXPECT_EQ(restored[0].value, DirectionValue(FluteChange{FluteSize{6, 0}}));
  EXPECT_EQ(restored[1].value, DirectionValue(TempoChange{{80, 1}}));
  EXPECT_EQ(restored[2].value, DirectionValue(KeyChange{{1, Mode::major}}));
  std::vector<std::size_t> measures;
  for (const FluteInUse& flute : played.score.flutes) measures.push_back(flute.measure);
  EXPECT_THAT(measures, ElementsAre(0, 2, 4, 6));
}

TEST_F(PlayOut, ATempoAfterARitComesBackAtARepeat) {
  score_.measures[1].repeat_start = score_.measures[1].repeat_end = true;
  score_.directions = {{1, 2, Cue::rit, {}}};
  const PlayedScore played = play();
  ASSERT_EQ(played.score.directions.size(), 3u);
  EXPECT_EQ(played.score.directions[1].measure, 2u);
  EXPECT_EQ(played.score.directions[1].value, DirectionValue(TempoChange{kDefaultTempo}));
}

TEST_F(PlayOut, DropsTheSignsOfTheForm) {
  score_.directions = {cue(0, Cue::segno), cue(0, Cue::fine), cue(2, Cue::dal_segno),
                       cue(2, Cue::until_cue)};
  const PlayedScore played = play();
  EXPECT_EQ(notes_of(played.score), "一4 二4 三4 一4 ");
  ASSERT_EQ(played.score.directions.size(), 1u);
  EXPECT_EQ(played.score.directions[0].value, DirectionValue(Cue::until_cue));
}

TEST_F(PlayOut, AFinalBarInTheMiddleIsASection) {
  score_.measures[2].right = BarStyle::final;
  score_.directions = {cue(0, Cue::fine), cue(2, Cue::da_capo)};
  const PlayedScore played = play();
  EXPECT_EQ(played.score.measures[2].right, BarStyle::section);
  EXPECT_EQ(played.score.measures.size(), 4u);
}

TEST_F(PlayOut, ABarPartedByARepeatSignIsIrregularWithoutIt) {
  score_.measures[0].length = 3;
  score_.notes[0].duration = 3;
  score_.measures[1].length = 3;
  score_.notes[1].duration = 3;
  score_.measures[2].length = 1;
  score_.notes[2].duration = 1;
  score_.measures[1].repeat_end = true;
  const PlayedScore played = play();
  ASSERT_EQ(played.score.measures.size(), 6u);
  EXPECT_FALSE(played.score.measures[0].irregular);
  EXPECT_TRUE(played.score.measures[3].irregular);
}

TEST_F(PlayOut, ASlideOrSlurAtTheEndHasNoNextNote) {
  score_.notes[1].slur_to_next = true;
  score_.notes[1].marks = {Mark::suri};
  score_.directions = {cue(1, Cue::fine), cue(3, Cue::da_capo)};
  const PlayedScore played = play();
  EXPECT_TRUE(played.score.notes[1].slur_to_next);
  EXPECT_FALSE(played.score.notes.back().slur_to_next);
  EXPECT_THAT(played.score.notes.back().marks, IsEmpty());
}

TEST(PlayOutProperty, APlayedOutScoreIsSoundAndPlaysAsItStands) {
  const std::set<std::string_view> expected{rule::repeat_without_start.name,
                                            rule::tie_struck_anew.name};
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    const Score score = support::random_score(seed);
    const auto played = play_out(score);
    ASSERT_TRUE(played.value) << seed;
    for (const base::Diagnostic& diagnostic : played.diagnostics) {
      EXPECT_TRUE(expected.contains(diagnostic.rule->name)) << seed << " " << diagnostic.message;
    }
    const Score& flat = played.value->score;
    ASSERT_THAT(broken_invariants(flat), IsEmpty()) << seed;
    ASSERT_EQ(played.value->source.size(), flat.notes.size());
    const auto again = play_out(flat);
    ASSERT_THAT(again.diagnostics, IsEmpty()) << seed;
    ASSERT_EQ(first_difference(flat, again.value->score), std::nullopt) << seed;
    for (std::size_t i = 0; i < flat.notes.size(); ++i) {
      const Note& written = score.notes[played.value->source[i]];
      EXPECT_EQ(flat.notes[i].tone, written.tone);
      EXPECT_LE(flat.notes[i].duration, written.duration);
    }
  }
}

TEST(ModelRules, AreDescribedAndHaveNamesOfTheirOwn) {
  std::set<std::string_view> names;
  for (const base::Rule* rule : rules()) {
    EXPECT_TRUE(names.insert(rule->name).second);
    EXPECT_TRUE(rule->sentence.ends_with('.'));
    EXPECT_NE(rule->wrong, rule->right);
  }
}

}  // namespace
}  // namespace yubifu::model
