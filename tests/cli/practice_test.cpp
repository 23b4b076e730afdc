// Practice sound as a teacher asks for it, from every readable format. What it sounds like, tick by
// tick, is tested in tests/midi.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;

constexpr const char* kTune =
    "title: Gate\nflute: 6\nmeter: 4/4\ntempo: 80\n\n"
    "三 四 五 - | (五 六) 七 六 五 | 三メ 三 二 一 | 三 - - - |=\n";

const std::vector<std::string> kPractice{"--bars", "2-3",        "--tempo", "60%",    "--times",
                                         "4",      "--count-in", "1",       "--click"};

ProgramRun practise(const TemporaryFolder& folder, const std::string& input,
                    const std::vector<std::string>& options) {
  std::vector<std::string> words{"convert", input, "--to", "midi", "-o", "out.mid"};
  words.insert(words.end(), options.begin(), options.end());
  return run_yubifu(words, folder.path());
}

TEST(PracticeSound, IsTheSameFromEveryFormat) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kTune);
  ASSERT_EQ(practise(folder, "tune.yubifu", kPractice).status, 0);
  const std::string expected = folder.read("out.mid");
  EXPECT_THAT(expected, StartsWith("MThd"));
  for (const std::string name : {"tune.musicxml", "tune.mxl", "tune.json", "tune.mid"}) {
    ASSERT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", name}, folder.path()).status, 0);
    const ProgramRun run = practise(folder, name, kPractice);
    EXPECT_EQ(run.status, 0) << run.err;
    EXPECT_EQ(folder.read("out.mid"), expected) << name;
  }
}

TEST(PracticeSound, SaysWhichBarsThereAre) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kTune);
  ASSERT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", "tune.musicxml"}, folder.path()).status, 0);
  for (const std::string input : {"tune.yubifu", "tune.musicxml"}) {
    const ProgramRun run = practise(folder, input, {"--bars", "5-8"});
    EXPECT_EQ(run.status, 2);
    EXPECT_EQ(run.err, input +
                           ": error: there is no bar 5: the bars that are played are 1 to 4 "
                           "[bars-not-played]\n");
  }
  EXPECT_THAT(folder.names(), ElementsAre("tune.musicxml", "tune.yubifu"));
}

// The figures are those of the bars that are heard.
TEST(PracticeSound, CountsTheNotesOfItsBars) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kTune);
  EXPECT_EQ(practise(folder, "tune.yubifu", {"--bars", "2-3"}).err,
            "tune.yubifu → out.mid: bars 2-3, flute 6, 9 notes (1 half-holed)\n");
  EXPECT_EQ(practise(folder, "tune.yubifu", {"--bars", "4", "--times", "3"}).err,
            "tune.yubifu → out.mid: bar 4, flute 6, 1 note\n");
  EXPECT_EQ(practise(folder, "tune.yubifu", {"--click"}).err,
            "tune.yubifu → out.mid: flute 6, 13 notes (1 half-holed)\n");
}

TEST(PracticeSound, SaysWhatItsOptionsTake) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kTune);
  struct Case {
    std::string option;
    std::string value;
    std::string expected;
  };
  const std::vector<Case> cases{{"--bars", "8-5", "bar numbers such as 5-8 or 5"},
                                {"--bars", "5-", "bar numbers such as 5-8 or 5"},
                                {"--tempo", "0%", "a percentage from 1% to 1000%"},
                                {"--tempo", "fast", "a percentage from 1% to 1000%"},
                                {"--times", "0", "a number from 1 to 1000"},
                                {"--count-in", "17", "a number of bars from 0 to 16"},
                                {"--program", "129", "a number from 1 to 128"},
                                {"--velocity", "0", "a number from 1 to 127"},
                                {"--ppq", "23", "a number from 24 to 32767"},
                                {"--lyrics", "words", "fingering, song, shoga or none"}};
  for (const Case& wrong : cases) {
    const ProgramRun run = practise(folder, "tune.yubifu", {wrong.option, wrong.value});
    EXPECT_EQ(run.status, 2);
    EXPECT_THAT(run.err,
                HasSubstr(wrong.option + " " + wrong.value + ": expected " + wrong.expected));
  }
  EXPECT_THAT(folder.names(), ElementsAre("tune.yubifu"));
}

}  // namespace
}  // namespace yubifu::tests
