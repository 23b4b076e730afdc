// Wrong usage: every refusal says what would be right.
#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

ProgramRun run_here(const std::vector<std::string>& arguments) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n一 二 三 四 |=\n");
  return run_yubifu(arguments, folder.path());
}

void expect_refusal(const std::vector<std::string>& arguments, const std::string& part) {
  const ProgramRun run = run_here(arguments);
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr(part));
  EXPECT_THAT(run.out, IsEmpty());
}

TEST(Usage, NoWordsShowTheHelpAndFail) {
  const ProgramRun run = run_here({});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("convert"));
}

TEST(Usage, HelpGoesToStandardOutput) {
  for (const std::vector<std::string>& arguments : std::vector<std::vector<std::string>>{
           {"help"}, {"--help"}, {"help", "convert"}, {"convert", "--help"}}) {
    const ProgramRun run = run_here(arguments);
    EXPECT_EQ(run.status, 0);
    EXPECT_THAT(run.out, HasSubstr("convert"));
    EXPECT_THAT(run.err, IsEmpty());
  }
}

// What stands behind two dashes is the name of a file.
TEST(Usage, HelpIsNotAskedForBehindTwoDashes) {
  const ProgramRun run = run_here({"check", "--", "-h"});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.out + run.err, HasSubstr("-h: error"));
}

TEST(Usage, VersionIsOneLine) {
  const ProgramRun run = run_here({"--version"});
  EXPECT_EQ(run.status, 0);
  EXPECT_EQ(run.out.find('\n'), run.out.size() - 1);
}

TEST(Usage, UnknownWordsAreAnsweredWithTheNearestOnes) {
  expect_refusal({"convrt"}, "did you mean convert?");
  expect_refusal({"convert", "tune.yubifu", "--flue", "6"}, "did you mean --flute?");
  expect_refusal({"convert", "tune.yubifu", "--xyzzy"}, "help convert");
}

// What was asked for is not passed over in silence.
TEST(Usage, OptionsThatTheOutputCannotHeedAreRefused) {
  const std::vector<std::pair<std::vector<std::string>, std::string>> cases{
      {{"--bars", "1"}, "out.yubifu"},
      {{"--click"}, "tune.json"},
      {{"--lyrics", "song"}, "tune.svg"},
      {{"--strokes"}, "tune.mid"},
      {{"--staff", "sounding"}, "out.yubifu"},
      {{"--ascii"}, "tune.musicxml"},
      {{"--landscape"}, "tune.mxl"},
      {{"--with-chart"}, "tune.mid"},
      {{"--tall"}, "tune.html"}};
  for (const auto& [words, output] : cases) {
    std::vector<std::string> arguments{"convert", "tune.yubifu", "-o", output};
    arguments.insert(arguments.end(), words.begin(), words.end());
    expect_refusal(arguments, words.front() + " changes nothing");
  }
  EXPECT_EQ(run_here({"convert", "tune.yubifu", "-o", "a.mid", "--bars", "1"}).status, 0);
  EXPECT_EQ(run_here({"convert", "tune.yubifu", "-o", "a.html", "--landscape"}).status, 0);
}

TEST(Usage, OptionsOfAChartOrARemovalThatCannotBeHeededAreRefused) {
  expect_refusal({"chart", "--size", "a4"}, "--size is for a chart as SVG or PDF only");
  expect_refusal({"chart", "--ascii", "-o", "chart.svg"}, "--ascii is for a chart as text only");
  expect_refusal({"chart", "--from", "midi"}, "--from is for the score");
  expect_refusal({"annotate", "tune.musicxml", "--remove", "--flute", "7"}, "leave --flute out");
}

TEST(Usage, NamesAndSignsAreAnsweredWithTheNearestOnes) {
  EXPECT_THAT(run_here({"check", "tuen.yubifu"}).err, HasSubstr("did you mean tune.yubifu?"));
  EXPECT_THAT(run_here({"convert", "tune.yubifu", "-o", "tune.musixml"}).err,
              HasSubstr("did you mean .musicxml?"));
  const TemporaryFolder folder;
  folder.write("lantern.json", "{}");
  EXPECT_THAT(run_yubifu({"chart", "--flute", "lantren.json"}, folder.path()).err,
              HasSubstr("did you mean lantern.json?"));
  EXPECT_THAT(run_yubifu({"check", "-"}, folder.path(), "flute: 6\n\n三 八 三 - |=\n").err,
              HasSubstr("did you mean 8?"));
}

TEST(Usage, ValuesOutOfRangeAreAnsweredWithTheRange) {
  expect_refusal({"convert", "tune.yubifu", "--flute", "14"}, "--flute 14: expected sizes from 1");
  expect_refusal({"convert", "tune.yubifu", "--octave", "maybe"}, "auto");
  expect_refusal({"convert", "tune.yubifu", "--program", "129"}, "1 to 128");
  expect_refusal({"convert", "tune.yubifu", "--fingering", "above"}, "lyric-above");
  expect_refusal({"convert", "tune.yubifu", "--to", "png"}, "musicxml");
}

TEST(Usage, PlansThatCannotWorkAreRefusedBeforeAnythingIsWritten) {
  expect_refusal({"convert"}, "needs an input");
  expect_refusal({"convert", "tune.yubifu", "tune.yubifu", "-o", "x.mid"}, "--out-dir");
  expect_refusal({"convert", "tune.yubifu", "--flute", "6,7", "-o", "x.mid"}, "--out-dir");
  expect_refusal({"convert", "tune.yubifu", "tune.yubifu", "--out-dir", "d", "--to", "midi"},
                 "would both become");
}

// Before anything is read, so that no other message stands in the way.
TEST(Usage, OutputsThatCannotBeAreRefusedFirst) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n一 二 三 四 |=\n> la la la la\n");
  const auto expect = [&](std::vector<std::string> words, const std::string& sentence) {
    const ProgramRun run = run_yubifu(words, folder.path());
    EXPECT_EQ(run.status, 2);
    EXPECT_EQ(run.err, "yubifu: error: " + sentence + '\n');
    EXPECT_THAT(folder.names(), testing::ElementsAre("tune.yubifu"));
  };
  expect({"convert", "tune.yubifu", "-o", "tune.doc"},
         "the name tune.doc tells no format that can be written here; known endings: .yubifu "
         ".musicxml .xml .mxl .mid .midi .json .sound.json .svg .html .htm .pdf");
  for (const std::string verb : {"convert", "tidy"}) {
    expect({verb, "tune.yubifu", "-o", "away/tune.yubifu"},
           "there is no folder away; make it first, or choose another place with -o");
    expect({verb, "tune.yubifu", "-o", "."}, ". is a folder; name a file in it with -o");
  }
  expect({"fit", "tune.yubifu", "-o", "away/table.txt"},
         "there is no folder away; make it first, or choose another place with -o");
  expect({"tidy", "tune.yubifu", "-o", "tune.mid"},
         "the name tune.mid tells no format that can be written here; known endings: .yubifu");
  expect({"annotate", "tune.musicxml", "-o", "tune.mid"},
         "the name tune.mid tells no format that can be written here; known endings: .musicxml "
         ".xml .mxl");
}

TEST(Usage, NegativeNumbersAndNamesWithDashesAreTaken) {
  const TemporaryFolder folder;
  folder.write("-tune.yubifu", "flute: 6\n\n三 四 五 六 |=\n");
  const ProgramRun run =
      run_yubifu({"convert", "--move", "-2", "--", "-tune.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, HasSubstr("二 三メ 四 五"));
}

}  // namespace
}  // namespace yubifu::tests
