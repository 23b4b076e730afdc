#include "notation/read/reader.h"

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

// --- the text ----------------------------------------------------------------------------------

TEST(Text, MayHaveAByteOrderMarkAndEveryLineEnd) {
  const std::string expected = "0 0+1 五|1 0+4 六|";
  for (const std::string text :
       {"\xEF\xBB\xBFtitle: x\n五 |\n六 - - - |\n", "title: x\r\n五 |\r\n六 - - - |\r\n",
        "title: x\r五 |\r六 - - - |", "title: x\n\n五 |\n六 - - - |"}) {
    std::string told;
    for (const std::string& note : notes_of(text)) told += note + "|";
    EXPECT_EQ(told, expected);
    EXPECT_EQ(read(text).score().header.title, "x");
  }
}

TEST(Text, AByteOrderMarkIsNoColumn) {
  EXPECT_THAT(read("\xEF\xBB\xBF@ 五 |\n").findings(), ElementsAre("1:1 error unknown-sign"));
}

TEST(Text, OfAnotherEncodingSaysHowToSaveIt) {
  // 五 in Shift_JIS.
  const Reading reading = read("title: x\n\x8C\xDC |\n");
  EXPECT_FALSE(reading.outcome.value.has_value());
  EXPECT_THAT(reading.findings(), ElementsAre("2:1 error not-utf8"));
  EXPECT_THAT(reading.first_message(), HasSubstr("save it with the encoding UTF-8"));
}

std::vector<std::string> rules_of(const base::Diagnostics& diagnostics) {
  std::vector<std::string> names;
  for (const base::Diagnostic& found : diagnostics) names.emplace_back(found.rule->name);
  return names;
}

// 五 六 in Shift_JIS (JIS X 0208) and, with its byte-order mark, in UTF-16.
TEST(Text, InShiftJisOrUtf16IsConvertedWithANote) {
  const std::string shift_jis = "flute: 6\n\x8C\xDC \x98\x5A |\n";
  auto converted = notation_text(shift_jis);
  EXPECT_EQ(*converted.value, "flute: 6\n五 六 |\n");
  EXPECT_THAT(rules_of(converted.diagnostics), ElementsAre("other-encoding"));
  EXPECT_EQ(converted.diagnostics[0].severity, base::Severity::note);
  converted = notation_text(std::string("\xFF\xFE\x94\x4E", 4));
  EXPECT_EQ(*converted.value, "五");
  EXPECT_THAT(rules_of(converted.diagnostics), ElementsAre("other-encoding"));
  EXPECT_THAT(notation_text("五 |\n").diagnostics, ElementsAre());
}

// Latin-1 is Shift_JIS by chance only; nothing of the bytes comes into a message.
TEST(Text, InUnknownBytesEndsWhereTheyBegin) {
  const auto text = notation_text("flute: 6\n五 caf\xE9 |\n");
  EXPECT_EQ(*text.value, "flute: 6\n五 caf\uFFFD");
  ASSERT_THAT(rules_of(text.diagnostics), ElementsAre("not-utf8"));
  EXPECT_EQ(text.diagnostics[0].where->begin, std::string("flute: 6\n五 caf").size());
}

TEST(Text, LooksLikeNotationByItsHeaderOrByALineOfMusic) {
  EXPECT_TRUE(looks_like_notation("# mine\ntitle: Rain\n"));
  EXPECT_TRUE(looks_like_notation("五 六 @ 七 |\n"));
  EXPECT_FALSE(looks_like_notation("Dear Anna,\nthe 3 of us | will come\n"));
  EXPECT_FALSE(looks_like_notation("1 2 3\n"));
  EXPECT_FALSE(looks_like_notation("A note: nothing\n"));
  EXPECT_FALSE(looks_like_notation(""));
}

TEST(Text, WithoutMusicIsTold) {
  EXPECT_THAT(read("").findings(), ElementsAre("1:1 error empty-input"));
  EXPECT_THAT(read("\xEF\xBB\xBF \n\n").findings(), ElementsAre("1:1 error empty-input"));
  EXPECT_THAT(read("title: x\n").findings(), ElementsAre("2:1 error no-words"));
  EXPECT_THAT(read("# only a comment\n").findings(), ElementsAre("2:1 error no-words"));
  EXPECT_THAT(read("title: x\n| {rit} |\n").findings(), ElementsAre("3:1 error no-words"));
  EXPECT_FALSE(read("title: x\n").outcome.value.has_value());
}

// --- the header --------------------------------------------------------------------------------

TEST(Header, EveryKey) {
  const Reading reading = read(
      "title: A: B # C\nsubtitle:  s \ncomposer: c\nlyricist: l\nsource: o\nrights: r\n"
      "flute: 7.5\ntuning: 442\nmeter: 6/8\nbeat: 3/8\ntempo: 92.5\nkey: F# minor\n"
      "staff: sounding\nzero: cross\n\n五 六 |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  const model::Header& header = reading.score().header;
  EXPECT_EQ(header.title, "A: B # C");
  EXPECT_EQ(header.subtitle, "s");
  EXPECT_EQ(header.composer, "c");
  EXPECT_EQ(header.lyricist, "l");
  EXPECT_EQ(header.source, "o");
  EXPECT_EQ(header.rights, "r");
  EXPECT_EQ(header.flute, model::FluteName(model::FluteSize{Rational(15, 2), 0}));
  EXPECT_EQ(header.tuning_hz, 442.0);
  EXPECT_EQ(header.meter, (model::Meter{6, 8}));
  EXPECT_EQ(header.beat, Rational(3, 2));
  EXPECT_EQ(header.tempo, (model::Tempo{Rational(185, 2), Rational(3, 2)}));
  EXPECT_EQ(header.key, (model::Key{3, model::Mode::minor}));
  EXPECT_EQ(header.staff, model::StaffMode::sounding);
  EXPECT_EQ(header.zero, model::ZeroSign::cross);
}

TEST(Header, InFullWidth) {
  const Reading reading =
      read("ｔｉｔｌｅ：　夏祭り\nflute：６\nmeter: ３／４\ntempo: １／８＝１８０\n五 六 七｜\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_EQ(reading.score().header.title, "夏祭り");
  EXPECT_EQ(reading.score().header.flute, model::FluteName(model::FluteSize{6, 0}));
  EXPECT_EQ(reading.score().header.meter, (model::Meter{3, 4}));
  EXPECT_EQ(reading.score().header.tempo, (model::Tempo{180, Rational(1, 2)}));
}

TEST(Header, KeepsUnknownKeysAndComments) {
  const Reading reading = read("# one\ndance: lion: old\n#  two \n\n#three\n編曲: 無名\n五 |\n");
  EXPECT_THAT(reading.findings(),
              ElementsAre("2:1 warning unknown-header", "6:1 warning unknown-header"));
  EXPECT_THAT(reading.score().header.unknown, ElementsAre(model::HeaderField{"dance", "lion: old"},
                                                          model::HeaderField{"編曲", "無名"}));
  EXPECT_THAT(reading.score().header.comments, ElementsAre("one", " two", "three"));
}

TEST(Header, TakesWhatIsSaidAtTheVeryStart) {
  const Reading reading =
      read("{meter 3/4} {beat 1/8} {tempo 90} {key D} {flute 7} {text \"a\"} 五 - - - - - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  const model::Header& header = reading.score().header;
  EXPECT_EQ(header.meter, (model::Meter{3, 4}));
  EXPECT_EQ(header.beat, Rational(1, 2));
  EXPECT_EQ(header.tempo, (model::Tempo{90, Rational(1, 2)}));
  EXPECT_EQ(header.key, (model::Key{2, model::Mode::major}));
  EXPECT_EQ(header.flute, model::FluteName(model::FluteSize{7, 0}));
  EXPECT_THAT(directions(reading), ElementsAre("0 0 text a"));
}

// --- signs -------------------------------------------------------------------------------------

TEST(Signs, OfAFlutesOwnAreOneCharacterWithItsMarks) {
  EXPECT_EQ(signs_of("ア 九 a 9 | が é A↓10 ｶﾞ |=\n"), "ア 九 a 9 が é A↓10 ガ");
  EXPECT_EQ(signs_of("e\u0301 ﾊﾟ ア\u0307メ - |\n"), "e\u0301 パ ア\u0307メ");
}

TEST(Signs, InMixedSpellings) {
  EXPECT_EQ(signs_of("r3メ 三m 5メ 5m | rtカ d2m 2̇ｍ 8↑1 |=\n"),
            "三メ 三メ 5メ 5メ 筒カ 2̇メ 2̇メ 8↑1");
  EXPECT_EQ(signs_of("？Ｃ５ ?D♭4 ?F♯4^7 ?C-1 |\n"), "?C5 ?Db4 ?F#4+7 ?C-1");
}

TEST(Signs, HoldsOfEveryDash) {
  EXPECT_THAT(notes_of("meter: free\n五 - ‐ ‑ ‒ – — ― − － ー ｰ ─ ━ |\n"),
              ElementsAre("0 0+14 五"));
}

TEST(Signs, RestsOfEverySpelling) {
  EXPECT_THAT(notes_of("五 ・ ･ . | ． 休 五 - |\n"), ElementsAre("0 0+1 五", "1 2+2 五"));
}

// --- time --------------------------------------------------------------------------------------

TEST(Time, RestsWithMarksAreKept) {
  const Reading reading = read("・ ・{fermata} ・ 五 | 五 (・{breath?}{breath} ・) ・ ・ |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  const auto& rests = reading.score().rests;
  ASSERT_EQ(rests.size(), 2u);
  EXPECT_EQ(rests[0].onset, Rational(1));
  EXPECT_THAT(rests[0].marks, ElementsAre(model::Mark::fermata));
  EXPECT_EQ(rests[1].measure, 1u);
  EXPECT_EQ(rests[1].onset, Rational(1));
  EXPECT_THAT(rests[1].marks, ElementsAre(model::Mark::breath, model::Mark::optional_breath));
}

TEST(Time, BeatsChangeInsideABar) {
  const Reading reading = read("五 {beat 1/8} 六 七 {beat 1/4} 1 - | 五 - - - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(notes(reading),
              ElementsAre("0 0+1 五", "0 1+1/2 六", "0 3/2+1/2 七", "0 2+2 1", "1 0+4 五"));
  EXPECT_THAT(directions(reading), ElementsAre("0 1 beat 1/8", "0 2 beat 1/4"));
}

TEST(Time, ABeatInAGroupActsAfterItsWord) {
  const Reading reading = read("五 (六 {beat 1/8} 七) 1 2 3 - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(notes(reading), ElementsAre("0 0+1 五", "0 1+1/2 六", "0 3/2+1/2 七", "0 2+1/2 1",
                                          "0 5/2+1/2 2", "0 3+1 3"));
  EXPECT_THAT(directions(reading), ElementsAre("0 3/2 beat 1/8"));
}

TEST(Time, ABeatInTheFirstGroupOfABarIsWrittenWhereItActs) {
  const Reading reading = read("({beat 1/8} 五 六) 七 - - - - - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(notes(reading), ElementsAre("0 0+1/2 五", "0 1/2+1/2 六", "0 1+3 七"));
  EXPECT_THAT(directions(reading), ElementsAre("0 1 beat 1/8"));
}

TEST(Time, ABeatAtTheEndOfABarIsTheNextOnes) {
  const Reading reading = read("五 - - - {beat 1/8} | 五 - - - - - - - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(directions(reading), ElementsAre());
  EXPECT_EQ(reading.score().measures[1].beat, Rational(1, 2));
}

TEST(Time, AMeterSetsTheBeatBackAndActsFirst) {
  const Reading reading = read(
      "beat: 1/8\n五 - - - - - - - | {tempo 60} {beat 1/4} {meter 3/4} 六 - - | "
      "{meter 6/8} 七 - - - - - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(notes(reading), ElementsAre("0 0+4 五", "1 0+3 六", "2 0+3 七"));
  EXPECT_EQ(reading.score().measures[1].beat, Rational(1));
  EXPECT_EQ(reading.score().measures[2].beat, Rational(1, 2));
  EXPECT_THAT(directions(reading), ElementsAre("1 0 tempo 1/4=60"));
}

TEST(Time, NothingIsCountedInFreeTime) {
  const Reading reading = read("meter: free\n五 六 七 | 1 | (2):1/2 | 3 (4):1/3 |=\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_EQ(reading.score().measures[3].length, Rational(4, 3));
}

TEST(Time, ShortBarsThatNeedNoWord) {
  EXPECT_THAT(
      read("五 | 五 六 七 1 |: 五 六 :| 七 1 | 五 六 七 || 六 - - - | 五 | {meter 2/4} 五 六 | 五 |"
           " {ending 1} 五 - :| {ending 2} 五 |= \n")
          .findings(),
      ElementsAre());
  EXPECT_THAT(read("五 - - - | 五 | {meter 4/4} 六 - - - |\n").findings(), ElementsAre());
  EXPECT_THAT(read("{ending 1} 五 - - - | 五 | {ending end} 六 | 六 - - - |\n").findings(),
              ElementsAre());
}

// A bar of too few beats at the end of a passage is as likely a slip as one in the middle; only one
// that another short bar completes is common practice.
TEST(Time, AForgottenBeatAtTheEndOfAPassage) {
  const auto told = [](const std::string& text) {
    const Reading reading = read(text);
    EXPECT_LE(reading.findings().size(), 1u) << text;
    return reading.findings().empty() ? "" : reading.first_message();
  };
  const std::string irregular = "if the bar is meant so, begin it with `{irregular}`";
  EXPECT_EQ(told("三 三 三 三 | 三 三 三 |=\n"),
            "bar 2 has 3 words of 1/4; 4/4 has 4 / a word or hold may be missing; " + irregular);
  EXPECT_THAT(told("三 三 三 三 | 三 三 三 || 三 三 三 三 |=\n"), HasSubstr("bar 2 has 3 words"));
  EXPECT_THAT(told("三 三 三 三 | 三 |: 三 三 三 三 :|\n"), HasSubstr("bar 2 has 1 word of 1/4;"));
  EXPECT_THAT(told("三 三 三 三 | 三 三 三 :|\n"), HasSubstr(irregular));
  EXPECT_EQ(told("三 | 三 三 三 三 | 三 三 |=\n"),
            "bar 2 has 2 words of 1/4; 4/4 has 4 / with 3 it would complete bar 0; " + irregular);
  EXPECT_EQ(told("三 三 三 三 | {irregular} 三 三 三 |=\n"), "");
}

TEST(Time, ShortBarsThatCompleteEachOther) {
  const auto findings = [](const std::string& text) { return read(text).findings(); };
  EXPECT_THAT(findings("三 | 三 三 三 三 | 三 三 三 |=\n"), ElementsAre());
  EXPECT_THAT(findings("三 | 三 三 三 三 | 三 三 三 || 三 三 三 三 | 三 三 三 |=\n"),
              ElementsAre());
  EXPECT_THAT(findings("三 三 三 三 || 三 | 三 三 三 三 | 三 三 三 |=\n"), ElementsAre());
  EXPECT_THAT(findings("三 三 三 三 | 三 三 三 || 三 | 三 三 三 三 |=\n"), ElementsAre());
  EXPECT_THAT(findings("三 | 三 三 三 三 :| 三 三 三 三 | 三 三 三 || 三 三 三 三 |=\n"),
              ElementsAre());
  EXPECT_THAT(findings("|: 三 | 三 三 三 三 | 三 三 三 :| 三 三 三 三 |=\n"), ElementsAre());
}

// The words that are counted are those of the bar that is meant, and in a compound meter another
// beat than the usual one may have been in mind.
TEST(Time, CountsInTheWordsOfTheBar) {
  const auto told = [](const std::string& text) { return read(text).first_message(); };
  EXPECT_THAT(told("meter: 6/8\n三 三 三 三 三 三 | 三 三 |=\n"),
              HasSubstr("bar 2 has 2 words of 1/8; 6/8 has 6 / here a word lasts 1/8; where it "
                        "shall last 3/8, write `beat: 3/8` in the header"));
  EXPECT_THAT(told("meter: 12/8\n三 - - - | 三 三 三 三 | {irregular} 三 |=\n"),
              HasSubstr("`beat: 3/8`"));
  EXPECT_THAT(
      told("meter: 6/8\n三 三 三 三 三 三 | 三 三 三 |=\n"),
      HasSubstr("write `beat: 1/4` in the header, and `beat: 3/8` where it shall last 3/8"));
  EXPECT_THAT(told("meter: 6/8\nbeat: 3/8\n三 - | 三 三 三 三 三 三 |=\n"),
              HasSubstr("without `beat: 3/8` it lasts 1/8"));
  EXPECT_THAT(told("三 三 三 三 | {beat 1/2} 三 (三):1/2 |=\n"),
              HasSubstr("bar 2 has 1 1/2 words of 1/2; 4/4 has 2"));
  EXPECT_THAT(told("三 三 三 三 | 三 {beat 1/8} 三 三 三 |=\n"),
              HasSubstr("bar 2 lasts 5/8 of a whole note, not 4/4"));
}

TEST(Time, IrregularBars) {
  const Reading reading =
      read("五 - - - | {irregular} 五 六 | {irregular} 五 六 七 1 2 | 五 - - - |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_TRUE(reading.score().measures[1].irregular);
  EXPECT_TRUE(reading.score().measures[2].irregular);
  EXPECT_FALSE(reading.score().measures[3].irregular);
}

TEST(Time, ARepeatSignInsideABar) {
  const Reading reading = read("五 六 七 1 |: 五 六 7 (1):1/2 :| (2):1/2 | 五 - - - |=\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  std::vector<std::string> numbers;
  for (const model::Measure& measure : reading.score().measures) numbers.push_back(measure.number);
  EXPECT_THAT(numbers, ElementsAre("1", "2", "2", "3"));
}

TEST(Time, TheSameBarRepeatsHoldsMarksAndRests) {
  const Reading reading =
      read("五 六 七 1 | {rit} - ・{fermata} (五{accent}{pre 六}~ 六) 7 {dc} | % {fine} | % |\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(notes(reading),
              ElementsAre("0 0+1 五", "0 1+1 六", "0 2+1 七", "0 3+2 1", "1 2+1/2 五",
                          "1 5/2+1/2 六", "1 3+2 7", "2 2+1/2 五", "2 5/2+1/2 六", "2 3+2 7",
                          "3 2+1/2 五", "3 5/2+1/2 六", "3 3+1 7"));
  EXPECT_EQ(reading.score().rests.size(), 3u);
  EXPECT_EQ(reading.score().notes[7].grace_before.size(), 1u);
  EXPECT_TRUE(reading.score().notes[7].slur_to_next);
  EXPECT_TRUE(reading.score().notes[7].has(model::Mark::accent));
  EXPECT_THAT(directions(reading), ElementsAre("1 0 rit", "1 4 dc", "2 4 fine"));
}

TEST(Time, TheSameBarAfterABarThatIsOneHold) {
  EXPECT_THAT(notes_of("五 - - - | - - - - | % | 六 - - - |\n"),
              ElementsAre("0 0+12 五", "3 0+4 六"));
}

// --- form --------------------------------------------------------------------------------------

TEST(Form, BarSignsAndRepeats) {
  const Reading reading = read("|: 五 - - - :| |: 六 - - - :|x3 || 七 - - - || 1 - - - |=\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  const auto& bars = reading.score().measures;
  EXPECT_TRUE(bars[0].repeat_start && bars[0].repeat_end && bars[1].repeat_start);
  EXPECT_TRUE(bars[1].repeat_end);
  EXPECT_EQ(bars[1].times, 3);
  EXPECT_EQ(bars[1].right, model::BarStyle::section);
  EXPECT_EQ(bars[2].right, model::BarStyle::section);
  EXPECT_EQ(bars[3].right, model::BarStyle::final);
}

// Signs without a word between them are one boundary; the largest number of times counts.
TEST(Form, TheLargestOfTwoRepeatCountsCounts) {
  EXPECT_EQ(read("|: 五 - - - :|x3 :|x2 六 - - - |=\n").score().measures[0].times, 3);
  EXPECT_EQ(read("|: 五 - - - :|x2 | :|x3 六 - - - |=\n").score().measures[0].times, 3);
}

TEST(Form, EndingsReachToTheirSign) {
  const Reading reading = read(
      "|: 五 - - - | {ending 1,2} 六 - - - | 七 - - - :| {ending 3} 1 - - - | 2 - - - || "
      "3 - - - | {ending 1} 4 - - - {ending end} | 5 - - - |=\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  std::vector<std::vector<int>> endings;
  for (const model::Measure& measure : reading.score().measures) endings.push_back(measure.ending);
  using Numbers = std::vector<int>;
  EXPECT_THAT(endings, ElementsAre(Numbers{}, Numbers{1, 2}, Numbers{1, 2}, Numbers{3}, Numbers{3},
                                   Numbers{}, Numbers{1}, Numbers{}));
}

TEST(Form, EndDirectionsAmongBarSignsBelongToTheBarBefore) {
  const Reading reading = read("五 - - - | {fine} || {section \"B\"} |: 六 - - - :| {dc}\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_THAT(directions(reading), ElementsAre("0 4 fine", "1 0 section B", "1 4 dc"));
}

TEST(Form, DirectionsStandWhereTheyAreWritten) {
  const Reading reading =
      read("五 {rit} - (- {text \"a \\\"b\\\" \\\\\"} 六) 七 {dyn \"molto f\"} |\n");
  EXPECT_THAT(reading.findings(), ElementsAre("1:39 warning unknown-dynamic"));
  EXPECT_THAT(directions(reading),
              ElementsAre("0 1 rit", "0 5/2 text a \"b\" \\", "0 4 dyn molto f"));
}

TEST(Form, CommentsStayWithTheirBars) {
  const Reading reading = read("# head\n五 - # in\n- - | # after\n# own\n\n六 - - - |\n#\n");
  EXPECT_THAT(reading.score().header.comments, ElementsAre("head"));
  EXPECT_THAT(reading.score().measures[0].comments,
              ElementsAre(model::Comment{"in", false}, model::Comment{"after", false},
                          model::Comment{"own", true}));
  EXPECT_THAT(reading.score().measures[1].comments, ElementsAre(model::Comment{"", true}));
  EXPECT_EQ(reading.score().measures[1].break_before, model::LineBreak::blank_line);
}

TEST(Form, PlacesPointIntoTheText) {
  const std::string text = "五 六{accent}~ {rit} 七 - |\n";
  const Reading reading = read(text);
  const auto at = [&](base::SourceRange range) {
    return text.substr(range.begin, range.end - range.begin);
  };
  EXPECT_EQ(at(reading.score().notes[1].source), "六{accent}~");
  EXPECT_EQ(at(reading.score().directions[0].source), "{rit}");
  EXPECT_EQ(at(reading.score().measures[0].source), "五 六{accent}~ {rit} 七 - |");
}

// --- song text ---------------------------------------------------------------------------------

TEST(Song, BarsOfRestsAndSignsCopiedFromTheMusic) {
  const Reading reading = read(
      "|: 五 - - - | ・ ・ ・ ・ | 六 - 七 - :| |: 1 - - - | % |=\n"
      "> |: ka | | ze ga :| |: ya | ma |=\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_EQ(song(reading), "ka ze ga ya ma");
}

TEST(Song, SyllablesJoinOverLines) {
  const Reading reading = read("五 六 七 - |\n> a- b- c\n1 2 3 - |\n> d- ~ /\n4 - - - |\n> e\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_EQ(song(reading), "a- -b- -c d- ~ / -e");
}

TEST(Song, EscapesTakeTheNextCharacterAsItIs) {
  const Reading reading = read("五 六 七 1 | 2 3 4 5 |\n> \\/ a\\ b c\\| \\\\ | x\\- # \\> {q}\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  std::vector<std::string> texts;
  for (const model::Note& note : reading.score().notes) {
    texts.push_back(note.syllables.at(0).text);
  }
  EXPECT_THAT(texts, ElementsAre("/", "a b", "c|", "\\", "x-", "#", ">", "{q}"));
}

TEST(Song, LinesUnderMusicThatCouldNotBeReadAreLeftAlone) {
  EXPECT_THAT(read("五五 六 七 - |\n> a b c d e\n1 2 3 4 |\n> a b c d\n").findings(),
              ElementsAre("1:1 error two-signs"));
}

TEST(Song, GroupsOverALineEndAndBarsOverALineEnd) {
  const Reading reading = read("五 (六\n> a b\n七) 1 - | 2 - - - |\n> c d | e\n");
  EXPECT_THAT(reading.findings(), ElementsAre());
  EXPECT_EQ(song(reading), "a b c d e");
}

TEST(Song, VersesAreInOrder) {
  const Reading reading = read("五 六 |\n>shoga hi ya\n>10 a b\n>2 c d\n> e f\n");
  EXPECT_THAT(reading.score().verses, ElementsAre("1", "2", "10", "shoga"));
  EXPECT_EQ(reading.score().notes[0].syllables.front().verse, "1");
}

}  // namespace
}  // namespace yubifu::notation
