// The examples by which the fingering text is explained, read as they are meant.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/reading.h"

namespace yubifu::notation {
namespace {

using model::Rational;
using testing::ElementsAre;
using testing::HasSubstr;

TEST(Example, FerryLanterns) {
  const Reading reading = read(
      "title: Ferry Lanterns\n"
      "flute: 6\n"
      "meter: 4/4\n"
      "tempo: 76\n"
      "\n"
      "三 三 五 六 | 七 (六 五) 六 - | 1 (- 七) 六 五 | 三メ 三 - ・ |=\n"
      "> み な と の   あ か り が      ゆ れ て い   ま す\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(notes(reading),
              ElementsAre("0 0+1 三", "0 1+1 三", "0 2+1 五", "0 3+1 六", "1 0+1 七", "1 1+1/2 六",
                          "1 3/2+1/2 五", "1 2+2 六", "2 0+3/2 1", "2 3/2+1/2 七", "2 2+1 六",
                          "2 3+1 五", "3 0+1 三メ", "3 1+2 三"));
  EXPECT_EQ(song(reading), "み な と の あ か り が ゆ れ て い ま す");
  const model::Score& score = reading.score();
  EXPECT_EQ(score.header.title, "Ferry Lanterns");
  EXPECT_EQ(score.header.flute, model::FluteName(model::FluteSize{6, 0}));
  EXPECT_EQ(score.header.meter, (model::Meter{4, 4}));
  EXPECT_EQ(score.header.tempo, (model::Tempo{76, 1}));
  ASSERT_EQ(score.measures.size(), 4u);
  EXPECT_EQ(score.measures[0].number, "1");
  EXPECT_EQ(score.measures[3].right, model::BarStyle::final);
  EXPECT_THAT(score.verses, ElementsAre("1"));
}

TEST(Example, FlutesInTheHeader) {
  const auto flute = [](const std::string& value) {
    return read("flute: " + value + "\n五 |\n").score().header.flute;
  };
  const model::FluteName six = model::FluteSize{6, 0};
  EXPECT_EQ(flute("6"), six);
  EXPECT_EQ(flute("六"), six);
  EXPECT_EQ(flute("6本"), six);
  EXPECT_EQ(flute("六本調子"), six);
  EXPECT_EQ(flute("7.5"), model::FluteName(model::FluteSize{Rational(15, 2), 0}));
  EXPECT_EQ(flute("6+15c"), model::FluteName(model::FluteSize{6, 15}));
  EXPECT_EQ(flute("flutes/our old one.json"),
            model::FluteName(model::FlutePath{"flutes/our old one.json"}));
}

TEST(Example, SixEighthsCountsEighthsUnlessTheBeatIsSaid) {
  EXPECT_THAT(notes_of("meter: 6/8\n五 六 七 1 - - |\n"),
              ElementsAre("0 0+1/2 五", "0 1/2+1/2 六", "0 1+1/2 七", "0 3/2+3/2 1"));
  EXPECT_THAT(notes_of("meter: 6/8\nbeat: 3/8\n五 (六 七 1) |\n"),
              ElementsAre("0 0+3/2 五", "0 3/2+1/2 六", "0 2+1/2 七", "0 5/2+1/2 1"));
}

TEST(Example, TempoCountsTheFeltBeat) {
  const auto tempo = [](const std::string& header) {
    return read(header + "五 |\n").score().header.tempo;
  };
  EXPECT_EQ(tempo("tempo: 76\n"), (model::Tempo{76, 1}));
  EXPECT_EQ(tempo("tempo: 76\nmeter: 6/8\n"), (model::Tempo{76, Rational(3, 2)}));
  EXPECT_EQ(tempo("tempo: 76\nmeter: 12/8\n"), (model::Tempo{76, Rational(3, 2)}));
  EXPECT_EQ(tempo("tempo: 76\nmeter: 3/8\n"), (model::Tempo{76, Rational(1, 2)}));
  EXPECT_EQ(tempo("tempo: 76\nbeat: 1/2\n"), (model::Tempo{76, 2}));
  EXPECT_EQ(tempo("tempo: 1/8=180\n"), (model::Tempo{180, Rational(1, 2)}));
}

TEST(Example, SignsInPrintAndInAscii) {
  EXPECT_EQ(signs_of("meter: free\n筒 一 二 三 四 五 六 七 0 1 2 3 4 5 6 7 8 2̇ 3̇ 4̇ 5̇ 6̇ 7̇ |\n"),
            "筒 一 二 三 四 五 六 七 0 1 2 3 4 5 6 7 8 2̇ 3̇ 4̇ 5̇ 6̇ 7̇");
  EXPECT_EQ(
      signs_of("meter: free\nrt r1 r2 r3 r4 r5 r6 r7 0 1 2 3 4 5 6 7 8 d2 d3 d4 d5 d6 d7 |\n"),
      "筒 一 二 三 四 五 六 七 0 1 2 3 4 5 6 7 8 2̇ 3̇ 4̇ 5̇ 6̇ 7̇");
  EXPECT_EQ(signs_of("8 8̇ 1̇ d1 | d8 - - - |\n"), "8 8 8 8 8");
}

TEST(Example, TheZeroOfTheTubeTone) {
  EXPECT_EQ(signs_of("zero: tube\n0 〇 零 筒 |\n"), "筒 筒 筒 筒");
  EXPECT_EQ(read("zero: tube\n0 |\n").score().header.zero, model::ZeroSign::tube);
  EXPECT_EQ(signs_of("0 |\n"), "0");
}

TEST(Example, HalfHolesAndBends) {
  EXPECT_EQ(signs_of("三メ r3m 一カ r1k |\n"), "三メ 三メ 一カ 一カ");
  EXPECT_EQ(signs_of("三↓20 五↑15 三v20 五^15 |\n"), "三↓20 五↑15 三↓20 五↑15");
  EXPECT_EQ(signs_of("三メ↓20 r3mv20 |\n"), "三メ↓20 三メ↓20");
}

TEST(Example, ReadWithoutARemark) {
  EXPECT_EQ(signs_of("×三 三× ♭三 三♭ | ♯二 二♯ - - |\n"), "三メ 三メ 三メ 三メ 二カ 二カ");
  EXPECT_THAT(notes_of("五 － ー ― | － — − － |\n"), ElementsAre("0 0+8 五"));
  EXPECT_EQ(signs_of("１　２　ｒ３　ｄ４ |\n"), "1 2 三 4̇");
  EXPECT_EQ(signs_of("三ﾒ 二ｶ 四 五 |\n"), "三メ 二カ 四 五");
}

TEST(Example, LookAlikesAreReadWithANote) {
  const Reading reading = read("ニ ミ 二力 x三 | ニ 三x - - |\n");
  EXPECT_THAT(notes(reading), ElementsAre("0 0+1 二", "0 1+1 三", "0 2+1 二カ", "0 3+1 三メ",
                                          "1 0+1 二", "1 1+3 三メ"));
  EXPECT_THAT(reading.findings(), ElementsAre("1:1 note look-alike", "1:3 note look-alike",
                                              "1:5 note look-alike", "1:8 note look-alike"));
  EXPECT_THAT(reading.first_message(), HasSubstr("`ニ` is read as `二`, here and in 1 more"));
  const Reading hiragana = read("七め 三め↓20 7め 六 |\n");
  EXPECT_THAT(hiragana.findings(), ElementsAre("1:1 note look-alike"));
  EXPECT_EQ(signs_of("七め 三め↓20 7め 六 |\n"), "七メ 三メ↓20 7メ 六");
  EXPECT_THAT(hiragana.first_message(), HasSubstr("half holes are written in katakana"));
}

TEST(Example, MarksOnASign) {
  const Reading reading = read(
      "五{fermata} 五{uchi}{age} 五{suri} 五{yuri}{trill} | "
      "五{accent} 五{staccato} 五{tenuto} 五{breath} | 五{breath?} - - - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  using model::Mark;
  const auto& list = reading.score().notes;
  EXPECT_THAT(list[0].marks, ElementsAre(Mark::fermata));
  EXPECT_THAT(list[1].marks, ElementsAre(Mark::uchi, Mark::age));
  EXPECT_THAT(list[2].marks, ElementsAre(Mark::suri));
  EXPECT_THAT(list[3].marks, ElementsAre(Mark::yuri, Mark::trill));
  EXPECT_THAT(list[4].marks, ElementsAre(Mark::accent));
  EXPECT_THAT(list[5].marks, ElementsAre(Mark::staccato));
  EXPECT_THAT(list[6].marks, ElementsAre(Mark::tenuto));
  EXPECT_THAT(list[7].marks, ElementsAre(Mark::breath));
  EXPECT_THAT(list[8].marks, ElementsAre(Mark::optional_breath));
}

TEST(Example, JapaneseNamesOfMarks) {
  const Reading reading = read(
      "五{打} 五{打ち} 五{指打ち} 五{上} | 五{指上げ} 五{スリ} 五{ユリ} 五{息} | 五{延} 五{ｽﾘ} 五 "
      "- |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  using model::Mark;
  std::vector<Mark> marks;
  for (const model::Note& note : reading.score().notes) {
    for (const Mark mark : note.marks) marks.push_back(mark);
  }
  EXPECT_THAT(marks, ElementsAre(Mark::uchi, Mark::uchi, Mark::uchi, Mark::age, Mark::age,
                                 Mark::suri, Mark::yuri, Mark::breath, Mark::fermata, Mark::suri));
}

TEST(Example, GraceNotesAndPatterns) {
  const Reading reading = read(
      "五{pre 六 七} 五{post 六} 五{pre 三メ↓10 ?F#4}{accent} 五{holes ○●●●●●○} | "
      "五{holes oxxxxxo} 五{holes ◐xs◎h}~ 五 - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  const auto& list = reading.score().notes;
  const auto sign = [](const model::Tone& tone) { return model::printed(*tone.fingering); };
  ASSERT_EQ(list[0].grace_before.size(), 2u);
  EXPECT_EQ(sign(list[0].grace_before[0]), "六");
  EXPECT_EQ(sign(list[0].grace_before[1]), "七");
  ASSERT_EQ(list[1].grace_after.size(), 1u);
  EXPECT_EQ(sign(list[1].grace_after[0]), "六");
  ASSERT_EQ(list[2].grace_before.size(), 2u);
  EXPECT_EQ(sign(list[2].grace_before[0]), "三メ↓10");
  EXPECT_TRUE(list[2].grace_before[1].fingering->is_gap());
  EXPECT_EQ(list[2].grace_before[1].spelling, (model::Spelling{model::Step::f, 1, 4}));
  EXPECT_EQ(model::printed(list[3].asked_holes.value()), "○●●●●●○");
  EXPECT_EQ(model::printed(list[4].asked_holes.value()), "○●●●●●○");
  EXPECT_EQ(model::printed(list[5].asked_holes.value()), "◐●◎◎◐");
  EXPECT_TRUE(list[5].slur_to_next);
}

TEST(Example, Gaps) {
  const Reading reading = read("?C5 ?F#4 ?Bb3{accent} ?C5↓20 |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(notes(reading), ElementsAre("0 0+1 ?C5", "0 1+1 ?F#4", "0 2+1 ?Bb3", "0 3+1 ?C5-20"));
}

TEST(Example, TwoSignsInOneWordOfferBothReadings) {
  const Reading reading = read("五五 |\n");
  EXPECT_THAT(reading.findings(), ElementsAre("1:1 error two-signs"));
  EXPECT_THAT(reading.first_message(), HasSubstr("`五 五`"));
  EXPECT_THAT(reading.first_message(), HasSubstr("`(五 五)`"));
}

TEST(Example, ADotOnADigitOffersBothReadings) {
  const Reading reading = read("2・ |\n");
  EXPECT_THAT(reading.findings(), ElementsAre("1:1 error dot-on-digit"));
  EXPECT_THAT(reading.first_message(), HasSubstr("`2̇`"));
  EXPECT_THAT(reading.first_message(), HasSubstr("`2 ・`"));
}

TEST(Example, AHalfHoleTakesNoNumber) {
  const Reading reading = read("三メ20 |\n");
  EXPECT_THAT(reading.findings(), ElementsAre("1:1 error half-hole-number"));
  EXPECT_THAT(reading.first_message(), HasSubstr("`三メ↓20`"));
  EXPECT_THAT(reading.first_message(), HasSubstr("`三↓20`"));
}

TEST(Example, NumbersStartNotesAndDashesHoldThem) {
  EXPECT_THAT(notes_of("五 五 五 - | (- 六) - - - |\n"),
              ElementsAre("0 0+1 五", "0 1+1 五", "0 2+5/2 五", "1 1/2+7/2 六"));
}

TEST(Example, Groups) {
  EXPECT_THAT(notes_of("(5 6) |\n"), ElementsAre("0 0+1/2 5", "0 1/2+1/2 6"));
  EXPECT_THAT(notes_of("(5 6 7) |\n"), ElementsAre("0 0+1/3 5", "0 1/3+1/3 6", "0 2/3+1/3 7"));
  EXPECT_THAT(notes_of("((5 6) 7) |\n"), ElementsAre("0 0+1/4 5", "0 1/4+1/4 6", "0 1/2+1/2 7"));
  EXPECT_THAT(notes_of("5 (- 6) |\n"), ElementsAre("0 0+3/2 5", "0 3/2+1/2 6"));
  EXPECT_THAT(notes_of("(5 6 7):2 |\n"), ElementsAre("0 0+2/3 5", "0 2/3+2/3 6", "0 4/3+2/3 7"));
  EXPECT_THAT(notes_of("(5 (- 6)) |\n"), ElementsAre("0 0+3/4 5", "0 3/4+1/4 6"));
  EXPECT_THAT(notes_of("(5 6 7 8) |\n"),
              ElementsAre("0 0+1/4 5", "0 1/4+1/4 6", "0 1/2+1/4 7", "0 3/4+1/4 8"));
  EXPECT_THAT(notes_of("5 (- 6) - |\n"), ElementsAre("0 0+3/2 5", "0 3/2+3/2 6"));
  EXPECT_THAT(notes_of("(5 6 7 1 2):3 |\n"), ElementsAre("0 0+3/5 5", "0 3/5+3/5 6", "0 6/5+3/5 7",
                                                         "0 9/5+3/5 1", "0 12/5+3/5 2"));
  EXPECT_THAT(notes_of("(5 6 -):2 |\n"), ElementsAre("0 0+2/3 5", "0 2/3+4/3 6"));
  EXPECT_THAT(notes_of("(1 2) (- 3) (- 4) - |\n"),
              ElementsAre("0 0+1/2 1", "0 1/2+1 2", "0 3/2+1 3", "0 5/2+3/2 4"));
}

TEST(Example, SharesInsideAGroup) {
  // (5 6 7):2 lasts two of the three shares: thirds of 2/3 of a beat.
  EXPECT_THAT(notes_of("((5 6 7):2 1) |\n"),
              ElementsAre("0 0+2/9 5", "0 2/9+2/9 6", "0 4/9+2/9 7", "0 2/3+1/3 1"));
}

TEST(Example, IncompleteWords) {
  const Reading reading = read("(5):1/2 | 1 2 3 4 | 1 2 3 (4):1/2 |=\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(notes(reading), ElementsAre("0 0+1/2 5", "1 0+1 1", "1 1+1 2", "1 2+1 3", "1 3+1 4",
                                          "2 0+1 1", "2 1+1 2", "2 2+1 3", "2 3+1/2 4"));
  EXPECT_EQ(reading.score().measures[0].number, "0");
  EXPECT_EQ(reading.score().measures[1].number, "1");
}

TEST(Example, RepeatedThreeTimes) {
  const Reading reading = read("|: 五 六 七 - :|x3\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  const model::Measure& bar = reading.score().measures[0];
  EXPECT_TRUE(bar.repeat_start);
  EXPECT_TRUE(bar.repeat_end);
  EXPECT_EQ(bar.times, 3);
}

TEST(Example, AsTheBarBefore) {
  EXPECT_THAT(notes_of("五 六 - ・ | % | % |\n"),
              ElementsAre("0 0+1 五", "0 1+2 六", "1 0+1 五", "1 1+2 六", "2 0+1 五", "2 1+2 六"));
}

TEST(Example, Directions) {
  const Reading reading = read(
      "meter: 2/4\n五 - | {meter 3/4} 五 - - | {flute 7} 五 - - | {ending 1,3} 五 - - :| "
      "{ending 2} 五 - - | {ending end} {section \"A\"} {segno} {coda} 五 - - {fine} {dc} {ds} "
      "{to-coda} {until-cue} | {irregular} 五 {beat 1/8} 六 {tempo 96} 七 {rit} {accel} {a-tempo} "
      "{caesura} 六 {key D minor} 五 {text \"slowly\"} 四 {dyn mf} |=\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(directions(reading),
              ElementsAre("2 0 flute 7", "5 0 section A", "5 0 segno", "5 0 coda", "5 3 fine",
                          "5 3 dc", "5 3 ds", "5 3 to-coda", "5 3 until-cue", "6 1 beat 1/8",
                          "6 3/2 tempo 1/8=96", "6 2 rit", "6 2 accel", "6 2 a-tempo",
                          "6 2 caesura", "6 5/2 key D minor", "6 3 text slowly", "6 7/2 dyn mf"));
  const auto& measures = reading.score().measures;
  EXPECT_EQ(measures[1].meter, (model::Meter{3, 4}));
  EXPECT_THAT(measures[3].ending, ElementsAre(1, 3));
  EXPECT_THAT(measures[4].ending, ElementsAre(2));
  EXPECT_THAT(measures[5].ending, ElementsAre());
  EXPECT_TRUE(measures[6].irregular);
}

TEST(Example, SongLines) {
  const Reading reading = read(
      "五 六 七 - | 1 2 3 4 |\n"
      "> みな- と /   | を‿ひ \\~ ~ い\n"
      ">2 a b ~ | c d- e f\n"
      ">3 a b c | / / / /\n"
      ">shoga チャー ヒャ トー | ロ ラ ロ ラ\n");
  EXPECT_EQ(song(reading), "みな- -と / を‿ひ ~ ~ い");
  EXPECT_EQ(reading.score().notes[4].syllables[0].text, "~");
  EXPECT_FALSE(reading.score().notes[4].syllables[0].extends);
  EXPECT_TRUE(reading.score().notes[5].syllables[0].extends);
  EXPECT_EQ(song(reading, "2"), "a b ~ c d- -e f");
  EXPECT_EQ(song(reading, "3"), "a b c / / / /");
  EXPECT_EQ(song(reading, "shoga"), "チャー ヒャ トー ロ ラ ロ ラ");
  EXPECT_THAT(reading.score().verses, ElementsAre("1", "2", "3", "shoga"));
  EXPECT_THAT(reading.findings(), ElementsAre());
}

}  // namespace
}  // namespace yubifu::notation
