// The verb convert from end to end.
#include <filesystem>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"
#include "support/flute_files.h"

namespace yubifu::tests {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

constexpr const char* kGate = "title: Gate\nflute: 6\nmeter: 4/4\ntempo: 80\n\n三 四 五 - |=\n";

TEST(Convert, GoesToEveryFormatAndBack) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kGate);
  for (const std::string name : {"tune.musicxml", "tune.mxl", "tune.json"}) {
    const ProgramRun out = run_yubifu({"convert", "tune.yubifu", "-o", name}, folder.path());
    ASSERT_EQ(out.status, 0) << out.err;
    const ProgramRun back = run_yubifu({"convert", name}, folder.path());
    EXPECT_EQ(back.status, 0) << back.err;
    EXPECT_EQ(back.out, kGate) << name;
  }
}

// The frequencies are those that the flute file has from a tuner (a maker's public pages).
TEST(Convert, ListsWhatAFestivalFluteSounds) {
  const TemporaryFolder folder;
  std::filesystem::copy(flute_file("equal-holes-seven.json"), folder.path() / "pipe.json");
  folder.write("tune.yubifu",
               "flute: pipe.json\nmeter: 4/4\n\n筒 一 二 三 | 四 五 六 七 | 1 2 三↓20 7 |=\n");
  const ProgramRun run =
      run_yubifu({"convert", "tune.yubifu", "--to", "sound", "--out-dir", "out"}, folder.path());
  EXPECT_EQ(run.status, 0) << run.err;
  const std::string listing = folder.read("out/tune.sound.json");
  for (const char* hertz : {"464", "539", "588.5", "643", "707", "787", "886", "1012", "1070",
                            "1168", "635.614515", "1950"}) {
    EXPECT_THAT(listing, HasSubstr("\"hz\": " + std::string(hertz) + ","));
  }
  EXPECT_THAT(listing, HasSubstr(R"("sign": "二", "holes": "●●●●●○○")"));
}

TEST(Convert, OnlyWritesWhatSounds) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kGate);
  EXPECT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", "tune.sound.json"}, folder.path()).status,
            0);
  const ProgramRun back = run_yubifu({"convert", "tune.sound.json"}, folder.path());
  EXPECT_EQ(back.status, 2);
  EXPECT_THAT(back.err, HasSubstr("this is sound, which is only written, never read"));
}

TEST(Convert, KnowsAFormatByItsFirstBytes) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kGate);
  ASSERT_EQ(
      run_yubifu({"convert", "tune.yubifu", "--to", "musicxml", "-o", "tune.dat"}, folder.path())
          .status,
      0);
  const ProgramRun back = run_yubifu({"convert", "tune.dat"}, folder.path());
  EXPECT_EQ(back.out, kGate);
}

TEST(Convert, ReadsStandardInputAndWritesStandardOutput) {
  const TemporaryFolder folder;
  const ProgramRun run =
      run_yubifu({"convert", "-", "--from", "text", "--ascii"}, folder.path(), kGate);
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.out, HasSubstr("r3 r4 r5 - |="));
}

// The fingers stay and the sound moves: 三 四 五 on size 6 are D5 E♭5 F5 (a player's public notes
// on the size-6 flute), a semitone higher on size 7.
TEST(Convert, AnotherFluteMovesTheSoundOfNumbers) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kGate);
  const ProgramRun run = run_yubifu(
      {"convert", "tune.yubifu", "--flute", "7", "--staff", "sounding", "--to", "musicxml"},
      folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.out, HasSubstr("<step>D</step>\n          <alter>1</alter>"));
  EXPECT_THAT(run.out, HasSubstr(">三<"));
}

// The sound stays and the fingers move: D5 E♭5 F5 on size 7, whose 一 is B4.
TEST(Convert, RefingerKeepsTheSound) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kGate);
  const ProgramRun run =
      run_yubifu({"convert", "tune.yubifu", "--flute", "7", "--refinger"}, folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.out, HasSubstr("flute: 7\n"));
  EXPECT_THAT(run.out, HasSubstr("三メ 三 五メ - |="));
}

TEST(Convert, WritesOneResultAFlute) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kGate);
  const ProgramRun run =
      run_yubifu({"convert", "tune.yubifu", "--flute", "6,7.5", "--out-dir", "out", "--to", "midi"},
                 folder.path());
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_NE(folder.read("out/tune-6.mid"), "");
  EXPECT_NE(folder.read("out/tune-7.5.mid"), folder.read("out/tune-6.mid"));
}

TEST(Convert, OneBadFileDoesNotStopTheOthers) {
  const TemporaryFolder folder;
  folder.write("a.yubifu", kGate);
  folder.write("b.yubifu", "flute: 6\n\n三 四 |= 9\n");
  folder.write("c.yubifu", kGate);
  const ProgramRun run = run_yubifu(
      {"convert", "a.yubifu", "b.yubifu", "c.yubifu", "--out-dir", "out", "--to", "midi"},
      folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_NE(folder.read("out/a.mid"), "");
  EXPECT_EQ(folder.read("out/b.mid"), "");
  EXPECT_NE(folder.read("out/c.mid"), "");
}

TEST(Convert, TakesFolders) {
  const TemporaryFolder folder;
  std::filesystem::create_directories(folder.path() / "tunes" / "more");
  folder.write("tunes/a.yubifu", kGate);
  folder.write("tunes/more/b.yubifu", kGate);
  folder.write("tunes/flute.json", "{\"yubifu-flute\": 1}");
  folder.write("tunes/notes.txt", "no music");
  const std::vector<std::string> words{"convert", "tunes", "--out-dir", "out", "--to", "midi"};
  const ProgramRun run = run_yubifu(words, folder.path());
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_NE(folder.read("out/a.mid"), "");
  EXPECT_NE(folder.read("out/b.mid"), "");
  // Two of one name are refused before anything is written.
  folder.write("tunes/more/a.yubifu", kGate);
  std::filesystem::remove_all(folder.path() / "out");
  EXPECT_EQ(run_yubifu(words, folder.path()).status, 2);
  EXPECT_EQ(folder.read("out/b.mid"), "");
}

TEST(Convert, TheOutputMayBeTheInput) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n三   四 五 - |=\n");
  const ProgramRun run = run_yubifu({"convert", "tune.yubifu", "-o", "tune.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(folder.read("tune.yubifu"), HasSubstr("三 四 五 - |="));
  EXPECT_THAT(folder.names(), ElementsAre("tune.yubifu"));
}

TEST(Convert, SumsUpWhatItDid) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n三メ 四↓20 8 ?F#4 |=\n");
  const ProgramRun run = run_yubifu({"convert", "tune.yubifu", "-o", "tune.mid"}, folder.path());
  EXPECT_EQ(run.status, 0);
  for (const std::string part : {"flute 6", "4 notes", "1 half-holed", "1 bent", "1 third-register",
                                 "1 gap", "hearing protection"}) {
    EXPECT_THAT(run.err, HasSubstr(part));
  }
}

TEST(Convert, StrictMakesALossAFinding) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\n\n三 四 五 ?F#4 |=\n");
  EXPECT_EQ(run_yubifu({"convert", "tune.yubifu", "--strict"}, folder.path()).status, 1);
  EXPECT_EQ(run_yubifu({"convert", "tune.yubifu"}, folder.path()).status, 0);
}

TEST(Convert, ControlCharactersOfTheInputDoNotReachTheTerminal) {
  const TemporaryFolder folder;
  folder.write("bad.yubifu", "flute: \x1B[31m\n\n三 |=\n");
  const ProgramRun run = run_yubifu({"convert", "bad.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, Not(HasSubstr("\x1B")));
}

// All notes a quarter note late, as the file has them: fractions and decimals, early and late.
TEST(Convert, TakesALatenessOfFractionsAndDecimals) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", "flute: 6\nmeter: 4/4\n\n・ 二 三 四 | 五 四 三 - |=\n");
  ASSERT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", "tune.mid"}, folder.path()).status, 0);
  const auto music = [&](const std::string& offset) {
    return run_yubifu({"convert", "tune.mid", "--offset", offset}, folder.path()).out;
  };
  EXPECT_THAT(music("1"), HasSubstr("二 三 四 五 | 四 三 - ・ |="));
  EXPECT_THAT(music("2/2"), HasSubstr("二 三 四 五 | 四 三 - ・ |="));
  EXPECT_THAT(music("0.5"), HasSubstr("(・ 二) (- 三) (- 四) (- 五)"));
  EXPECT_THAT(music("-1"), HasSubstr("・ ・ 二 三 | 四 五 四 三 | - ・ ・ ・ |="));
  const ProgramRun wrong = run_yubifu({"convert", "tune.mid", "--offset", "--1"}, folder.path());
  EXPECT_EQ(wrong.status, 2);
  EXPECT_THAT(wrong.err, HasSubstr("expected quarter notes such as 1/16, 0.35 or -0.1"));
}

}  // namespace
}  // namespace yubifu::tests
