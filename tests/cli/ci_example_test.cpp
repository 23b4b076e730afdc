// The repository of examples/ci: its script, its workflow and its Makefile, as they stand.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

using testing::Not;

// A copy of the example in which tests may break things.
class CiExample : public testing::Test {
 protected:
  CiExample() {
    fs::copy(fs::path(YUBIFU_SOURCE_DIR) / "examples/ci", root(), fs::copy_options::recursive);
    fs::remove(root() / "report.sarif");
  }

  fs::path root() const { return folder_.path() / "tunes of the troupe"; }

  // Runs a line of shell in the copy; the messages of both streams come in `out`.
  ProgramRun shell(const std::string& line) const {
    const fs::path said = folder_.path() / "said";
    const std::string command = "cd '" + root().string() + "' && { " + line + "; } >'" +
                                said.string() + "' 2>&1 </dev/null";
    const int status = std::system(command.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : 128, folder_.read("said"), {}};
  }

  static std::string program() { return "'" + program_path() + "'"; }

  void replace_in(const std::string& name, const std::string& from, const std::string& to) const {
    const std::string path = "tunes of the troupe/" + name;
    std::string text = folder_.read(path);
    const std::size_t at = text.find(from);
    ASSERT_NE(at, std::string::npos) << name;
    text.replace(at, from.size(), to);
    folder_.write(path, text);
  }

  TemporaryFolder folder_;
};

TEST_F(CiExample, IsSound) {
  const ProgramRun run = shell("sh check.sh " + program());
  EXPECT_EQ(run.status, 0) << run.out;
  EXPECT_THAT(run.out, Not(HasSubstr(": error: ")));
  EXPECT_THAT(folder_.read("tunes of the troupe/report.sarif"), HasSubstr("\"2.1.0\""));
}

TEST_F(CiExample, ATuneChangedWithoutItsExportsFailsAtItsLine) {
  replace_in("tunes/reed-boat.yubifu", "六 1 2 1", "六 1 3 1");
  const ProgramRun run = shell("sh check.sh " + program());
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.out, HasSubstr("tunes/reed-boat.yubifu:7:"));
  EXPECT_THAT(run.out, HasSubstr("bar 3, beat 3: 3 (E6) here, 2 (D6) there (there: "
                                 "exports/reed-boat.musicxml:"));
  EXPECT_THAT(run.out, HasSubstr("there: exports/reed-boat.mid, bar 3, beat 3"));
}

TEST_F(CiExample, ABrokenTuneFailsAtItsLine) {
  replace_in("tunes/lantern-march.yubifu", "と へ |", "と へ に |");
  const ProgramRun run = shell("sh check.sh " + program());
  EXPECT_EQ(run.status, 2);  // it cannot be compared either
  EXPECT_THAT(run.out, HasSubstr("tunes/lantern-march.yubifu:6:"));
  EXPECT_THAT(run.out, HasSubstr("[bar-length]"));
  EXPECT_THAT(run.out,
              HasSubstr("tunes/reed-boat.yubifu and exports/reed-boat.mid hold the same music"));
}

TEST_F(CiExample, AChangedFluteFailsToo) {
  replace_in("flutes/lantern.json", "\"hz\": 836", "\"hz\": 880");
  const ProgramRun run = shell("sh check.sh " + program());
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.out, HasSubstr("tunes/lantern-march.yubifu and exports/lantern-march.mid: "));
}

TEST_F(CiExample, AMissingExportFails) {
  fs::remove(root() / "exports/reed-boat.mid");
  const ProgramRun run = shell("sh check.sh " + program());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.out, HasSubstr("exports/reed-boat.mid: error"));
}

// The lines behind `run:`, in order.
std::vector<std::string> commands_of(const fs::path& workflow) {
  std::ifstream file(workflow);
  std::vector<std::string> commands;
  const std::string key = "run: ";
  for (std::string line; std::getline(file, line);) {
    const std::size_t at = line.find(key);
    if (at != std::string::npos) commands.push_back(line.substr(at + key.size()));
  }
  return commands;
}

// The machine of the service has the program's source as a submodule; here it is built already.
TEST_F(CiExample, TheWorkflowRunsTheScript) {
  const auto commands = commands_of(root() / ".github/workflows/tunes.yml");
  ASSERT_EQ(commands.size(), 3U);
  const std::string build = "sh yubifu/";
  ASSERT_TRUE(commands[1].starts_with(build));
  EXPECT_TRUE(fs::exists(fs::path(YUBIFU_SOURCE_DIR) / commands[1].substr(build.size())));
  fs::create_directories(root() / "yubifu/build/release");
  fs::create_symlink(program_path(), root() / "yubifu/build/release/yubifu");
  const ProgramRun run = shell(commands[2]);
  EXPECT_EQ(run.status, 0) << run.out;
  EXPECT_TRUE(fs::exists(root() / "report.sarif"));
}

TEST_F(CiExample, TheMakefileWritesTheExportsAnew) {
  if (std::system("command -v make >/dev/null") != 0) GTEST_SKIP() << "there is no make here";
  replace_in("tunes/reed-boat.yubifu", "六 1 2 1", "六 1 3 1");
  fs::remove_all(root() / "exports");
  fs::create_directory(root() / "exports");
  const ProgramRun run = shell("make exports check YUBIFU=" + program());
  EXPECT_EQ(run.status, 0) << run.out;
}

}  // namespace
}  // namespace yubifu::tests
