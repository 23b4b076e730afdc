// What a score holds and the text cannot say: refused with the bar, or left out and told.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/reading.h"
#include "notation/tune.h"
#include "notation/write/writer.h"
#include "support/text.h"

namespace yubifu::notation {
namespace {

using model::Cue;
using model::Mark;
using support::rule_names;
using testing::ElementsAre;
using testing::IsEmpty;

base::Outcome<std::string> written(const model::Score& score) {
  return write_notation(score, {Alphabet::printed});
}

TEST(WriterLosses, RefusesNotesWithoutFingers) {
  Tune tune;
  tune.bar("五 五 五 五").bar("五 五 五 五");
  tune.note(5).tone.fingering.reset();
  tune.note(5).tone.pitch = model::Pitch{60, 0};
  const auto result = written(tune.score);
  EXPECT_FALSE(result.value);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("unfingered-note"));
  EXPECT_THAT(result.diagnostics[0].measures, ElementsAre("2"));
  tune.note(5).tone.fingering = model::Fingering{};
  EXPECT_THAT(rule_names(written(tune.score).diagnostics), ElementsAre("unfingered-note"))
      << "a gap without its spelling";
}

TEST(WriterLosses, RefusesSignsThatWouldBeReadOtherwise) {
  for (const char* sign : {"(", "五五", "メ", "", "a b", "休"}) {
    Tune tune;
    tune.bar("五 五 五 五");
    tune.note(0).grace_after.resize(1);
    tune.note(0).grace_after[0].fingering = model::Fingering{model::Sign(sign)};
    const auto result = written(tune.score);
    EXPECT_FALSE(result.value);
    EXPECT_THAT(rule_names(result.diagnostics), ElementsAre("unwritable-sign")) << sign;
  }
}

TEST(WriterLosses, RefusesARhythmTooFineAndNamesTheBar) {
  Tune tune;
  tune.bar("五 五 五 五").bar("五:1/103 五:2/10403 五:100/101 五 五 五");
  const auto result = written(tune.score);
  EXPECT_FALSE(result.value);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("bar-too-fine"));
  EXPECT_THAT(result.diagnostics[0].measures, ElementsAre("2"));
  EXPECT_EQ(result.diagnostics[0].message,
            "notes of a bar divide a word into more than 10000 parts: bar 2");
  EXPECT_FALSE(result.diagnostics[0].hint.empty());
}

TEST(WriterLosses, RefusesAnEndlessBar) {
  Tune tune(model::Meter::free_time());
  tune.bar("五:1000000000000");
  EXPECT_THAT(rule_names(written(tune.score).diagnostics), ElementsAre("bar-too-fine"));
}

TEST(WriterLosses, RefusesADirectionThatNoReaderWouldTake) {
  Tune tune;
  tune.bar("五 五 五 五").direct(1, model::TextDirection{std::string(5'000, 'a')});
  EXPECT_THAT(rule_names(written(tune.score).diagnostics), ElementsAre("size-limit"));
}

TEST(WriterLosses, RefusesValuesThatNoReaderWouldTake) {
  struct Row {
    model::DirectionValue value;
    std::string message;
  };
  for (const auto& [value, message] :
       std::vector<Row>{{model::TempoChange{{2'000, 1}}, "`2000` is no value of `{tempo}`: bar 2"},
                        {model::BeatChange{12}, "`3/1` is no value of `{beat}`: bar 2"},
                        {model::Dynamic{""}, "`\"\"` is no value of `{dyn}`: bar 2"}}) {
    Tune tune(model::Meter{64, 4});
    tune.bar("五:64").bar("五:64").direct(12, value);
    const auto result = written(tune.score);
    EXPECT_FALSE(result.value);
    ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("bad-direction-value"));
    EXPECT_EQ(result.diagnostics[0].message, message);
    EXPECT_THAT(result.diagnostics[0].measures, ElementsAre("2"));
  }
}

TEST(WriterLosses, RefusesATempoOfTheHeaderAndABeatThatNoReaderWouldTake) {
  Tune tune(model::Meter{64, 4});
  tune.bar("五:64");
  tune.score.header.tempo = model::Tempo{1'001, 1};
  EXPECT_THAT(rule_names(written(tune.score).diagnostics), ElementsAre("bad-direction-value"));
  tune.score.header.tempo = model::Tempo{1'000, 1};
  EXPECT_THAT(rule_names(written(tune.score).diagnostics), IsEmpty());
  tune.score.header.beat = tune.last().beat = 16;
  EXPECT_THAT(rule_names(written(tune.score).diagnostics), ElementsAre("bad-direction-value"));
}

TEST(WriterLosses, RefusesMoreGraceNotesThanAMarkHolds) {
  for (auto list : {&model::Note::grace_before, &model::Note::grace_after}) {
    Tune tune;
    tune.bar("五 五 五 五").bar("五 五 五 五");
    const model::Tone grace = tune.note(0).tone;
    (tune.note(5).*list).assign(1'022, grace);
    const auto fits = written(tune.score);
    ASSERT_THAT(rule_names(fits.diagnostics), IsEmpty());
    EXPECT_THAT(read(*fits.value).findings(), IsEmpty());
    (tune.note(5).*list).push_back(grace);
    const auto result = written(tune.score);
    EXPECT_FALSE(result.value);
    ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("size-limit"));
    EXPECT_EQ(result.diagnostics[0].message,
              "the grace notes of one note take more than 4096 bytes: bar 2");
    EXPECT_TRUE(write_notation(tune.score, {Alphabet::ascii}).value) << "r5 is shorter than 五";
  }
}

TEST(WriterLosses, RefusesAPatternOfMoreHolesThanAFluteHas) {
  Tune tune;
  tune.bar("五 五 五 五");
  tune.note(2).asked_holes = model::HolePattern{{24, model::Hole::open}};
  const auto fits = written(tune.score);
  ASSERT_THAT(rule_names(fits.diagnostics), IsEmpty());
  EXPECT_THAT(read(*fits.value).findings(), IsEmpty());
  tune.note(2).asked_holes->holes.push_back(model::Hole::open);
  const auto result = written(tune.score);
  EXPECT_FALSE(result.value);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("bad-mark-value"));
  EXPECT_EQ(result.diagnostics[0].message, "a pattern of 25 holes: bar 1");
}

TEST(WriterLosses, RefusesASignLongerThanAWord) {
  std::string sign = "甲";
  while (sign.size() <= 4'096) sign += "\u0323";
  Tune tune;
  tune.bar("五 五 五 五");
  tune.note(3).tone.fingering->sign = model::Sign(sign);
  EXPECT_THAT(rule_names(written(tune.score).diagnostics), ElementsAre("unwritable-sign"));
}

TEST(WriterLosses, RefusesMoreNotesThanATextHolds) {
  Tune tune;
  tune.bar("五 五 五 五");
  tune.score.rests.resize(1'999'997);  // marked rests count as well
  const auto result = written(tune.score);
  EXPECT_FALSE(result.value);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("size-limit"));
  EXPECT_EQ(result.diagnostics[0].message, "2000001 notes; a text holds 2000000");
}

TEST(WriterLosses, KeepsAHeaderFieldThatHasNoKeyAsAComment) {
  Tune tune;
  tune.bar("五 五 五 五");
  tune.score.header.unknown = {{"two words", "x"}, {"troupe", "A"}, {"troupe", "B"}, {"title", ""}};
  const auto result = written(tune.score);
  EXPECT_THAT(rule_names(result.diagnostics),
              ElementsAre("unwritable-header", "unwritable-header", "unwritable-header"));
  EXPECT_EQ(*result.value,
            "# two words: x\n# troupe: B\n# title: \nmeter: 4/4\ntroupe: A\n\n五 五 五 五 |\n");
}

TEST(WriterLosses, LeavesZeroTubeOutWhereZeroIsANote) {
  Tune tune;
  tune.bar("筒 0 五 五");
  tune.score.header.zero = model::ZeroSign::tube;
  const auto result = written(tune.score);
  EXPECT_THAT(rule_names(result.diagnostics), ElementsAre("zero-is-taken"));
  EXPECT_EQ(*result.value, "meter: 4/4\n\n筒 0 五 五 |\n");
}

TEST(WriterLosses, StrikesANoteAnewOverAChangeOfFlute) {
  Tune tune;
  tune.bar("五 五 五 五").bar("- - 六 六").direct(0, model::FluteChange{model::FluteSize{7, 0}});
  tune.note(3).marks = {Mark::accent};
  tune.sing("1", 3, "la");
  const auto result = written(tune.score);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("held-over-flute"));
  EXPECT_THAT(result.diagnostics[0].measures, ElementsAre("2"));
  EXPECT_EQ(*result.value,
            "meter: 4/4\n\n"
            "  五 五 五 五{accent} | {flute 7} 五 - 六 六 |\n"
            "> /  /  /  la                     ~    /  /\n");
}

TEST(WriterLosses, AStruckAnewNoteTakesTheSlurWithIt) {
  Tune tune;
  tune.bar("五 五 五 五").bar("- - 六 六").direct(0, model::FluteChange{model::FluteSize{7, 0}});
  tune.note(3).slur_to_next = true;
  EXPECT_EQ(*written(tune.score).value, "meter: 4/4\n\n五 五 五 五 | {flute 7} 五~ - 六 六 |\n");
}

TEST(WriterLosses, LeavesOutARepeatStartWithoutAnEndOfItsOwn) {
  Tune tune;
  tune.bar("五 五 五 五").last().repeat_start = true;
  tune.bar("五 五").last().irregular = true;
  tune.bar("五 五 五 五").last().repeat_start = true;
  tune.last().repeat_end = true;
  tune.bar("五 五 五 五").last().repeat_start = true;
  const auto result = written(tune.score);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("idle-repeat"));
  EXPECT_THAT(result.diagnostics[0].measures, ElementsAre("1"));
  EXPECT_EQ(
      *result.value,
      "meter: 4/4\n\n   五 五 五 五 | {irregular} 五 五 |\n|: 五 五 五 五 :|\n|: 五 五 五 五 |\n");
}

TEST(WriterLosses, KeepsTheLastOfTwoTemposAtOnePlace) {
  Tune tune;
  tune.bar("五 五 五 五").direct(1, model::TempoChange{{60, 1}});
  tune.direct(1, Cue::rit).direct(1, model::TempoChange{{90, 1}});
  const auto result = written(tune.score);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("undone-direction"));
  EXPECT_EQ(*result.value, "meter: 4/4\n\n五 {rit} {tempo 90} 五 五 五 |\n");
}

TEST(WriterLosses, LeavesOutACarriedSyllableThatHasNone) {
  Tune tune;
  tune.bar("五 五 五 五").sing("1", 0, "~ la ~");
  const auto result = written(tune.score);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("carried-nothing"));
  EXPECT_EQ(*result.value, "meter: 4/4\n\n  五 五 五 五 |\n> /  la ~  /\n");
}

TEST(WriterLosses, JoinsTheLinesOfAText) {
  Tune tune;
  tune.score.header.title = "One\r\nand two";
  tune.bar("五 五 五 五").direct(1, model::TextDirection{"a\nb"});
  tune.last().comments = {{"c\rd", false}};
  const auto result = written(tune.score);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("text-on-one-line"));
  EXPECT_THAT(result.diagnostics[0].measures, ElementsAre("1"));
  EXPECT_EQ(*result.value,
            "title: One and two\nmeter: 4/4\n\n五 {text \"a b\"} 五 五 五 | # c d\n");
}

// It could not be read again.
TEST(WriterLosses, RefusesAScoreWithoutABar) {
  model::Score score;
  score.header.title = "Nothing yet";
  const auto written = write_notation(score, {});
  EXPECT_FALSE(written.value);
  EXPECT_THAT(rule_names(written.diagnostics), ElementsAre("no-words"));
  // A bar of free time may have no length.
  score.measures.emplace_back().meter = model::Meter::free_time();
  EXPECT_THAT(rule_names(write_notation(score, {}).diagnostics), ElementsAre("no-words"));
}

}  // namespace
}  // namespace yubifu::notation
