#include "model/play_out.h"

#include <set>

#include <gmock/gmock.h>

#include "model/form_helpers.h"
#include "model/rules.h"
#include "support/invariants.h"
#include "support/rounds.h"
#include "support/same_music.h"
#include "support/score_generator.h"
#include "support/small_score.h"
#include "support/text.h"

namespace yubifu::model {
namespace {

using support::low_tone;
using testing::ElementsAre;
using testing::IsEmpty;

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
    EXPECT_THAT(support::broken_invariants(score_), IsEmpty());
    auto played = play_out(score_);
    EXPECT_EQ(support::rule_names(played.diagnostics), rules);
    EXPECT_THAT(support::broken_invariants(played.value->score), IsEmpty());
    return std::move(*played.value);
  }

  Score score_;
};

TEST_F(PlayOut, TonesAreNumberedWithTheirGraceNotes) {
  score_.notes[1].grace_before = {low_tone(6), low_tone(7)};
  score_.notes[1].grace_after = {low_tone(5)};
  EXPECT_THAT(tone_numbers(score_), ElementsAre(0u, 3u, 5u, 6u));
}

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

TEST_F(PlayOut, AHoldThatIsStruckAnewEachTimeIsToldOnce) {
  score_.measures[1].repeat_start = score_.measures[1].repeat_end = true;
  score_.measures[1].times = 4;
  score_.notes[0].duration = 6;
  score_.notes[1].onset = 2;
  score_.notes[1].duration = 2;
  EXPECT_EQ(notes_of(play({"tie-struck-anew"}).score), "一6 二2 一2 二2 一2 二2 一2 二2 三4 四4 ");
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

TEST_F(PlayOut, AnATempoBringsTheTempoBackByItself) {
  score_.measures[1].repeat_start = score_.measures[1].repeat_end = true;
  score_.directions = {{1, 1, Cue::rit, {}}, {1, 2, Cue::a_tempo, {}}};
  const PlayedScore played = play();
  ASSERT_EQ(played.score.directions.size(), 4u);
  for (const Direction& direction : played.score.directions) {
    EXPECT_TRUE(std::holds_alternative<Cue>(direction.value));
  }
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
  for (std::uint64_t seed = 0; seed < support::rounds(2000); ++seed) {
    const Score score = support::random_score(seed);
    const auto played = play_out(score);
    ASSERT_TRUE(played.value) << seed;
    for (const base::Diagnostic& diagnostic : played.diagnostics) {
      EXPECT_TRUE(expected.contains(diagnostic.rule->name)) << seed << " " << diagnostic.message;
    }
    const Score& flat = played.value->score;
    ASSERT_THAT(support::broken_invariants(flat), IsEmpty()) << seed;
    ASSERT_EQ(played.value->source.size(), flat.notes.size());
    const auto again = play_out(flat);
    ASSERT_THAT(again.diagnostics, IsEmpty()) << seed;
    ASSERT_EQ(support::first_difference(flat, again.value->score), std::nullopt) << seed;
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
