// The verb new: what it writes is a tune that check and tidy have nothing to say about.
#include <algorithm>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

TEST(Starter, HoldsHeaderFourBarsAndSong) {
  const TemporaryFolder folder;
  const ProgramRun made =
      run_yubifu({"new", "Harvest", "Song", "--flute", "6", "--meter", "2/4"}, folder.path());
  EXPECT_EQ(made.status, 0);
  EXPECT_THAT(made.err, IsEmpty());
  const std::size_t tune = made.out.find("title:");
  EXPECT_EQ(made.out.substr(tune),
            "title: Harvest Song\nflute: 6\nmeter: 2/4\ntempo: 80\n\n"
            "  一 二 | (三 四) 五 | 四 三 | 一 - |=\n"
            "> la la    la la  la   la la   la\n");
  const std::string comments = made.out.substr(0, tune);
  EXPECT_GE(std::count(comments.begin(), comments.end(), '#'), 6);
}

TEST(Starter, IsClean) {
  for (const std::string meter :
       {"1/4", "2/4", "3/4", "4/4", "5/4", "7/8", "6/8", "9/8", "12/8", "3/2", "free"}) {
    for (const std::string language : {"en", "ja"}) {
      const TemporaryFolder folder;
      const ProgramRun made = run_yubifu({"new", "灯籠", "--flute", "7.5", "--meter", meter,
                                          "--language", language, "-o", "tune.yubifu"},
                                         folder.path());
      EXPECT_EQ(made.status, 0) << made.err;
      EXPECT_EQ(run_yubifu({"check", "tune.yubifu"}, folder.path()).err,
                "1 file checked: 0 errors, 0 warnings, 0 notes\n")
          << folder.read("tune.yubifu");
      EXPECT_EQ(run_yubifu({"tidy", "--check", "tune.yubifu"}, folder.path()).status, 0);
      EXPECT_THAT(folder.read("tune.yubifu"), HasSubstr("meter: " + meter + "\n"));
    }
  }
}

TEST(Starter, TakesWhatItsOptionsSay) {
  const TemporaryFolder folder;
  const std::string text =
      run_yubifu({"new", "A", "--flute", "6", "--tempo", "1/8=120", "--tuning", "442", "--ascii"},
                 folder.path())
          .out;
  EXPECT_THAT(text, AllOf(HasSubstr("tuning: 442\n"), HasSubstr("tempo: 1/8=120\n"),
                          HasSubstr("r1 r2 r3 r4 | (r5 r4)")));
}

TEST(Starter, SaysWhichFluteItTook) {
  const ProgramRun made = run_yubifu({"new", "A"}, TemporaryFolder().path());
  EXPECT_THAT(made.out, HasSubstr("flute: 8\n"));
  EXPECT_EQ(made.err,
            "yubifu: note: no flute is named, so size 8 is taken (--flute names another) "
            "[no-flute-given]\n");
}

// Its signs, and its path as the tune will see it.
TEST(Starter, IsForAFluteOfAFileToo) {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder.path() / "tunes");
  folder.write("two.json",
               R"({"yubifu-flute": 1, "title": "Two", "holes": 2, "ichi": "C5",
                   "entries": [
                 {"sign": "い", "register": "low", "pattern": "●●", "cents": 0},
                               {"sign": "ろ", "register": "low", "pattern": "●○", "cents": 200}]})");
  const ProgramRun made =
      run_yubifu({"new", "A", "--flute", "two.json", "-o", "tunes/a.yubifu"}, folder.path());
  EXPECT_EQ(made.status, 0) << made.err;
  EXPECT_THAT(folder.read("tunes/a.yubifu"),
              AllOf(HasSubstr("flute: ../two.json\n"), HasSubstr("upwards: い ろ\n"),
                    HasSubstr("い ろ い ろ | (い ろ) い ろ ・ |"), Not(HasSubstr("一"))));
  EXPECT_EQ(run_yubifu({"check", "tunes"}, folder.path()).status, 0);
}

TEST(Starter, NeverWritesOverATune) {
  const TemporaryFolder folder;
  folder.write("mine.yubifu", "work of a week");
  const ProgramRun refused = run_yubifu({"new", "A", "-o", "mine.yubifu"}, folder.path());
  EXPECT_EQ(refused.status, 2);
  EXPECT_EQ(refused.err,
            "yubifu: error: mine.yubifu is there already, and new writes over nothing; choose "
            "another name\n");
  EXPECT_EQ(folder.read("mine.yubifu"), "work of a week");
}

TEST(Starter, RefusesWhatCannotBegin) {
  const TemporaryFolder folder;
  const auto refusal = [&](const std::vector<std::string>& words) {
    const ProgramRun run = run_yubifu(words, folder.path());
    EXPECT_EQ(run.status, 2);
    EXPECT_THAT(run.out, IsEmpty());
    return run.err;
  };
  EXPECT_THAT(refusal({"new"}), HasSubstr("new needs the title of the tune"));
  EXPECT_THAT(refusal({"new", "A", "--flute", "6,7"}), HasSubstr("one flute at a time"));
  EXPECT_THAT(refusal({"new", "A", "--flute", "gone.json"}), HasSubstr("gone.json: error: cannot"));
  EXPECT_THAT(refusal({"new", "A", "--meter", "4"}), HasSubstr("a meter such as 3/4"));
  EXPECT_THAT(refusal({"new", "A", "--tempo", "fast"}), HasSubstr("beats a minute such as 80"));
  EXPECT_THAT(refusal({"new", "A", "-o", "a.mid"}), HasSubstr("known endings: .yubifu"));
  EXPECT_THAT(folder.names(), IsEmpty());
}

}  // namespace
}  // namespace yubifu::tests
