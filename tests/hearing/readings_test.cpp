// Tables of readings, and the flute files that come of them and of tones.
#include "hearing/readings.h"

#include <cmath>

#include <gmock/gmock.h>

#include "base/encoding.h"
#include "flute/flute_file.h"
#include "hearing/measured_flute.h"
#include "hearing/rules.h"
#include "support/text.h"

namespace yubifu::hearing {
namespace {

using support::rule_names;
using support::short_forms;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

const flute::Flute& six() {
  static const flute::Flute flute = flute::built_in_flute({6, 0}, 440);
  return flute;
}

std::vector<std::string> found_in(const std::string& text) {
  const base::SourceText source("readings.csv", text);
  return short_forms(read_readings(source, six()).diagnostics, source);
}

// "一 588.0": each sign and its Hz; empty for a table with errors.
std::vector<std::string> read_as(const std::string& text) {
  const auto noted = read_readings(base::SourceText("readings.csv", text), six());
  std::vector<std::string> texts;
  if (!noted.value) return texts;
  for (const NotedSign& sign : *noted.value) {
    texts.push_back(printed(sign.fingering) + " " + std::to_string(std::lround(sign.hz * 10)) +
                    (sign.holes ? " " + printed(*sign.holes) : ""));
  }
  return texts;
}

TEST(Readings, MayBePartedByCommasSemicolonsAndTabs) {
  for (const char* text : {"一,466.2\n二,523.3\n", "一;466,2\n二;523,3\n", "一\t466.2\r\n二\t523.3",
                           "\xEF\xBB\xBF# tuner\n\n 一 , \"466.2\"\r二,523.3,\n"}) {
    EXPECT_THAT(read_as(text), ElementsAre("一 4662", "二 5233")) << text;
  }
}

// Bb4 is 466.16 Hz, and 50 cents are a factor of 1.0293.
TEST(Readings, MayBeNotesAndCents) {
  EXPECT_THAT(read_as("一,Bb4\n二,C5,+50\n三,D5,-10,●●●●●○○\n四,E♭5,−4\n"),
              ElementsAre("一 4662", "二 5386", "三 5839 ●●●●●○○", "四 6208"));
}

TEST(Readings, MayHaveColumnsInAnyOrder) {
  EXPECT_THAT(read_as("holes;Sign;cents;note\nxxxxxoo;三;;D5\n;r4;10;Eb5\n"),
              ElementsAre("三 5873 ●●●●●○○", "四 6259"));
  EXPECT_THAT(read_as("運指,周波数\n一,466.2\n"), ElementsAre("一 4662"));
}

TEST(Readings, MayHaveSignsThatTheFluteLacksWithTheirHoles) {
  EXPECT_THAT(read_as("一,466.2\n6̇,2960,●○○●○○○\n"), ElementsAre("一 4662", "6̇ 29600 ●○○●○○○"));
  EXPECT_THAT(found_in("一,466.2\n6̇,2960\n"), ElementsAre("2:1 error readings-sign"));
}

TEST(Readings, AreToldWhatIsWrongAndWhere) {
  EXPECT_THAT(found_in("一,466.2\n二,five\n"), ElementsAre("2:3 error readings-pitch"));
  EXPECT_THAT(found_in("一,466.2\nneu,523\n"), ElementsAre("2:1 error readings-sign"));
  EXPECT_THAT(found_in("一,466.2\n二,C5,many\n"), ElementsAre("2:6 error readings-pitch"));
  EXPECT_THAT(found_in("一,466.2\n一,467\n"), ElementsAre("2:1 error readings-twice"));
  EXPECT_THAT(found_in("一,466.2,●●●●●●○○\n二,523\n"), ElementsAre("1:9 error readings-holes"));
  EXPECT_THAT(found_in("一,466.2,●●\n二,523,●●●\n"), ElementsAre("2:7 error readings-holes"));
  EXPECT_THAT(found_in("一,466.2,what\n"), ElementsAre("1:9 error readings-holes"));
  EXPECT_THAT(found_in("sign,Hz,colour\n一,466.2,red\n"),
              ElementsAre("1:9 error readings-columns"));
  EXPECT_THAT(found_in("sign,cents\n一,5\n"), ElementsAre("1:1 error readings-columns"));
  EXPECT_THAT(found_in("一,466.2,●●●●●●○,1,2\n"), ElementsAre("1:17 error readings-columns"));
  EXPECT_THAT(found_in("# nothing\n"), ElementsAre("1:1 error readings-columns"));
  EXPECT_THAT(found_in("一\n"), ElementsAre("1:1 error readings-pitch"));
  EXPECT_THAT(found_in(",466\n"), ElementsAre("1:1 error readings-sign"));
  EXPECT_THAT(found_in("一,19.9\n二,20001\n"),
              ElementsAre("1:3 error readings-pitch", "2:3 error readings-pitch"));
}

TEST(Readings, MayBeShiftJis) {
  const std::string text = "指,音名,セント\n七,A5,-12\n";
  const auto bytes = base::from_utf8(text, base::kShiftJis).text;
  ASSERT_NE(bytes, text);
  EXPECT_EQ(readings_text(bytes).value, text);
  EXPECT_EQ(readings_text(text).value, text);
  EXPECT_THAT(rule_names(readings_text("\xFF\xFE\xFD").diagnostics), ElementsAre("readings-text"));
}

class ReadingsRule : public testing::TestWithParam<const base::Rule*> {};

TEST_P(ReadingsRule, is_broken_by_its_wrong_example_alone) {
  const base::SourceText wrong("wrong.csv", std::string(GetParam()->wrong));
  EXPECT_THAT(rule_names(read_readings(wrong, six()).diagnostics), ElementsAre(GetParam()->name));
  const base::SourceText right("right.csv", std::string(GetParam()->right));
  EXPECT_THAT(read_readings(right, six()).diagnostics, IsEmpty());
}

INSTANTIATE_TEST_SUITE_P(All, ReadingsRule,
                         testing::Values(&rule::readings_columns, &rule::readings_sign,
                                         &rule::readings_pitch, &rule::readings_holes,
                                         &rule::readings_twice));

flute::Flute read_back(const std::string& text) {
  const base::SourceText source("own.json", text);
  auto read = flute::read_flute_file(source, model::FlutePath{"own.json"}, 440);
  EXPECT_THAT(read.diagnostics, IsEmpty()) << text;
  return *read.value;
}

double sounding_hz(const flute::Flute& flute, const std::string& sign) {
  const auto entry = entry_named(flute, sign);
  return model::frequency_hz(model::pitch_at(flute.total_cents(*entry)), 440);
}

TEST(MeasuredFlutes, AreFluteFilesWithTheirOwnPitchesAlone) {
  const MeasuredFlute flute{
      "Mine",
      "readings in a test",
      std::nullopt,
      {{fingering_of(six().entries()[*entry_named(six(), "二")]),
        540,
        1.25,
        std::pair(2.0, 3.1),
        {}},
       {fingering_of(six().entries()[*entry_named(six(), "一")]), 480.126, {}, {}, {}},
       {fingering_of(six().entries()[*entry_named(six(), "三メ")]), 560, {}, {}, {}}}};
  const std::string text = flute_file_text(flute, six());
  EXPECT_THAT(
      text,
      HasSubstr(
          R"({"sign": "二", "pattern": "●●●●●○○", "hz": 540, "spread": 1.3, "seconds": [2, 3.1]})"));
  EXPECT_THAT(text, Not(HasSubstr("ichi")));
  const flute::Flute read = read_back(text);
  EXPECT_EQ(read.title(), "Mine");
  EXPECT_EQ(read.entries().size(), 3u);
  EXPECT_EQ(read.hole_count(), 7u);
  EXPECT_NEAR(sounding_hz(read, "一"), 480.13, 1e-6);
  EXPECT_EQ(read.entries()[*entry_named(read, "三メ")].kind, flute::EntryKind::half_usual);
  EXPECT_EQ(read.entries()[*entry_named(read, "一")].patterns.size(), 2u);
}

// 2.95 cents a degree at 20 degrees: 8 degrees warmer is 1.0137 times as high.
TEST(MeasuredFlutes, AreBroughtToTwentyDegrees) {
  const MeasuredFlute flute{
      "Warm",
      "a test",
      28,
      {{fingering_of(six().entries()[*entry_named(six(), "一")]), 480, {}, {}, {}}}};
  const flute::Flute read = read_back(flute_file_text(flute, six()));
  EXPECT_NEAR(sounding_hz(read, "一"), 480 / 1.01355, 0.01);
  EXPECT_NEAR(concert_hz(480, 28), sounding_hz(read, "一"), 1e-6);
  EXPECT_EQ(concert_hz(480, std::nullopt), 480);
  EXPECT_EQ(read.concert_celsius(), 20);
}

// The whole flute lies 50 cents over size 6, so its 一 is 466.16 * 1.0293.
TEST(MeasuredFlutes, KnowWhereTheirIchiBelongs) {
  const MeasuredFlute flute{
      "No one",
      "a test",
      std::nullopt,
      {{fingering_of(six().entries()[*entry_named(six(), "二")]), 523.25 * 1.0293, {}, {}, {}},
       {fingering_of(six().entries()[*entry_named(six(), "三")]), 587.33 * 1.0293, {}, {}, {}}}};
  const flute::Flute read = read_back(flute_file_text(flute, six()));
  EXPECT_NEAR(model::frequency_hz(read.ichi(), 440), 479.8, 0.1);
}

}  // namespace
}  // namespace yubifu::hearing
