// Where files live: odd names, full disks, closed pipes, and the end of the program in between.
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <string>
#include <thread>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/mount.h>
#include <sys/wait.h>
#include <unistd.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr const char* kShortTune = "flute: 6\n\n一 二 三 四 |=\n";

std::string tune_of_many_bars() {
  std::string text = "flute: 6\n\n";
  for (int bar = 0; bar < 5'000; ++bar) text += "一 二 三 四 |\n";
  return text;
}

// Runs a line of shell, without single quotes, with $yubifu in a folder; standard error goes to the
// file "said".
int shell(const TemporaryFolder& folder, const std::string& line) {
  const std::string command = "cd \"" + folder.path().string() + "\" && yubifu=\"" +
                              program_path() + "\" && { " + line + "; } 2>said";
  const int status = std::system(("bash -c '" + command + "'").c_str());
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128;
}

TEST(Names, MayBeAnything) {
  std::string longest;  // 255 bytes, the most of a file system
  while (longest.size() + 3 + 7 <= 255) longest += "ふ";
  longest += ".yubifu";
  for (const std::string& name :
       {std::string("night of lanterns.yubifu"), std::string("灯籠.yubifu"),
        std::string("-o.yubifu"), std::string("a\nb.yubifu"), longest}) {
    const TemporaryFolder folder;
    folder.write(name, kShortTune);
    EXPECT_EQ(run_yubifu({"check", "--", name}, folder.path()).status, 0) << name;
    EXPECT_EQ(run_yubifu({"tidy", "--in-place", "./" + name}, folder.path()).status, 0) << name;
    const ProgramRun run = run_yubifu({"convert", "./" + name, "-o", "out.mid"}, folder.path());
    EXPECT_EQ(run.status, 0) << name << run.err;
    EXPECT_THAT(folder.names(), testing::UnorderedElementsAre(name, "out.mid"));
  }
}

TEST(Names, ThatLookLikeOptionsAreToldHowToBeWritten) {
  const TemporaryFolder folder;
  folder.write("-dance.yubifu", kShortTune);
  const ProgramRun run = run_yubifu({"check", "-dance.yubifu"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("write ./-dance.yubifu for the file"));
}

// Who closes a pipe has read enough: what was done was done.
TEST(Output, ToAClosedPipeEndsQuietlyWithTheStatusOfTheWork) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", tune_of_many_bars());
  EXPECT_EQ(
      shell(folder, "$yubifu convert tune.yubifu --to musicxml | true; exit ${PIPESTATUS[0]}"), 0);
  EXPECT_THAT(folder.read("said"), Not(HasSubstr("error")));
  EXPECT_EQ(shell(folder, "$yubifu help notation | true; exit ${PIPESTATUS[0]}"), 0);
  EXPECT_THAT(folder.read("said"), IsEmpty());
  folder.write("slip.yubifu", "flute: 6\n\n一 二 三 |\n一 二 三 四 |=\n");
  EXPECT_EQ(
      shell(folder, "$yubifu tidy --check tune.yubifu slip.yubifu | true; exit ${PIPESTATUS[0]}"),
      1);
  EXPECT_THAT(folder.read("said"), Not(HasSubstr("standard output")));
}

TEST(Output, ToAFullDeviceIsAnError) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kShortTune);
  for (const std::string line :
       {"$yubifu convert tune.yubifu --to mid >/dev/full", "$yubifu help >/dev/full",
        "$yubifu check --rules >/dev/full", "$yubifu chart >/dev/full",
        "$yubifu check tune.yubifu --report json >/dev/full", "$yubifu schema score >/dev/full",
        "$yubifu fit tune.yubifu >/dev/full", "$yubifu tidy tune.yubifu >/dev/full"}) {
    EXPECT_EQ(shell(folder, line), 2) << line;
    EXPECT_THAT(folder.read("said"), HasSubstr("No space left on device")) << line;
  }
}

TEST(Output, OnAFullDiskLeavesTheOldFileWhole) {
  const TemporaryFolder folder;
  const TemporaryFolder disk;
  if (::mount("tmpfs", disk.path().c_str(), "tmpfs", 0, "size=64k") != 0) {
    GTEST_SKIP() << "only root may mount a small disk";
  }
  folder.write("tune.yubifu", tune_of_many_bars());
  disk.write("tune.musicxml", "old");
  const ProgramRun run = run_yubifu(
      {"convert", "tune.yubifu", "-o", (disk.path() / "tune.musicxml").string()}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("No space left on device"));
  EXPECT_EQ(disk.read("tune.musicxml"), "old");
  EXPECT_THAT(disk.names(), ElementsAre("tune.musicxml"));
  ::umount(disk.path().c_str());
}

// Ended at any moment, it leaves the old result or the new one, and nothing beside it.
TEST(Output, EndedBySignalsLeavesNothingBehind) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", tune_of_many_bars());
  folder.write("tune.musicxml", "old");
  const std::string input = (folder.path() / "tune.yubifu").string();
  const std::string output = (folder.path() / "tune.musicxml").string();
  const std::string program = program_path();
  for (int round = 0; round < 30; ++round) {
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      ::close(STDERR_FILENO);
      ::execl(program.c_str(), program.c_str(), "convert", input.c_str(), "-o", output.c_str(),
              static_cast<char*>(nullptr));
      ::_exit(127);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(5 * round));
    ::kill(child, round % 2 == 0 ? SIGTERM : SIGINT);
    int status = 0;
    ::waitpid(child, &status, 0);
    EXPECT_THAT(folder.names(), ElementsAre("tune.musicxml", "tune.yubifu"));
    const std::string left = folder.read("tune.musicxml");
    EXPECT_TRUE(left == "old" || left.ends_with("</score-partwise>\n")) << left.size();
  }
}

}  // namespace
}  // namespace yubifu::tests
