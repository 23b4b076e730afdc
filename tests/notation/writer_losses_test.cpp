// What a score holds and the text cannot say: refused with the bar, or left out and told.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/tune.h"
#include "notation/writer.h"
#include "support/text.h"

namespace yubifu::notation {
namespace {

using model::Cue;
using model::Mark;
using support::rule_names;
using testing::ElementsAre;

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

TEST(WriterLosses, LeavesOutARepeatStartWithoutAnEndOfItsOwn) {
  Tune tune;
  tune.bar("五 五 五 五").last().repeat_start = true;
  tune.bar("五 五");
  tune.bar("五 五 五 五").last().repeat_start = true;
  tune.last().repeat_end = true;
  tune.bar("五 五 五 五").last().repeat_start = true;
  const auto result = written(tune.score);
  ASSERT_THAT(rule_names(result.diagnostics), ElementsAre("idle-repeat"));
  EXPECT_THAT(result.diagnostics[0].measures, ElementsAre("1"));
  EXPECT_EQ(*result.value,
            "meter: 4/4\n\n   五 五 五 五 | 五 五 |\n|: 五 五 五 五 :|\n|: 五 五 五 五 |\n");
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

}  // namespace
}  // namespace yubifu::notation
