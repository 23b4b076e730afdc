// The repository of examples/ci: its script, its hook and its Makefile, as they stand. What
// installs packages there is run by tests/package.sh and tests/web/node.sh.
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
    fs::remove_all(root() / "reports");
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

  std::string report(const std::string& name) const {
    return folder_.read("tunes of the troupe/reports/" + name);
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
  EXPECT_THAT(report("tunes.sarif"), HasSubstr("\"2.1.0\""));
  EXPECT_THAT(report("tunes.xml"), HasSubstr("failures=\"0\""));
  EXPECT_THAT(report("reed-boat.mid.xml"), HasSubstr("failures=\"0\""));
}

TEST_F(CiExample, ATuneChangedWithoutItsExportsFailsAtItsLine) {
  replace_in("tunes/reed-boat.yubifu", "六 1 2 1", "六 1 3 1");
  const ProgramRun run = shell("sh check.sh " + program());
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.out, HasSubstr("tunes/reed-boat.yubifu:7:"));
  EXPECT_THAT(run.out, HasSubstr("bar 3, beat 3: 3 (E6) here, 2 (D6) there (there: "
                                 "exports/reed-boat.musicxml:"));
  EXPECT_THAT(run.out, HasSubstr("there: exports/reed-boat.mid, bar 3, beat 3"));
  EXPECT_THAT(report("reed-boat.mid.xml"), HasSubstr("bar 3, beat 3: 3 (E6) here, 2 (D6) there"));
}

TEST_F(CiExample, ABrokenTuneFailsAtItsLine) {
  replace_in("tunes/lantern-march.yubifu", "と へ |", "と へ に |");
  const ProgramRun run = shell("sh check.sh " + program());
  EXPECT_EQ(run.status, 2);  // it cannot be compared either
  EXPECT_THAT(run.out, HasSubstr("tunes/lantern-march.yubifu:6:"));
  EXPECT_THAT(run.out, HasSubstr("[bar-length]"));
  EXPECT_THAT(run.out,
              HasSubstr("tunes/reed-boat.yubifu and exports/reed-boat.mid hold the same music"));
  EXPECT_THAT(report("tunes.sarif"), HasSubstr("\"ruleId\": \"bar-length\""));
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

TEST_F(CiExample, TheWorkflowRunsItsScriptsAndShowsWhatTheyReport) {
  EXPECT_THAT(commands_of(root() / ".github/workflows/tunes.yml"),
              testing::ElementsAre("sh debian.sh", "sh node.sh"));
  for (const char* script : {"debian.sh", "node.sh"}) {
    EXPECT_THAT(folder_.read(std::string("tunes of the troupe/") + script),
                HasSubstr("\nsh check.sh "));
  }
}

// A tune that was changed and not added does not stop a commit, one that was added does.
TEST_F(CiExample, TheHookProvesWhatIsAboutToBeCommitted) {
  if (std::system("command -v git >/dev/null") != 0) GTEST_SKIP() << "there is no git here";
  fs::create_directories(root() / "node_modules/.bin");
  fs::create_symlink(program_path(), root() / "node_modules/.bin/yubifu");
  const std::string me = "git -c user.name=me -c user.email=me@troupe.invalid commit -qm now";
  const auto commit = [&](const std::string& before) { return shell(before + " && " + me); };
  ASSERT_EQ(shell("git init -q . && git config core.hooksPath hooks").status, 0);
  const ProgramRun first = commit("git add .");
  EXPECT_EQ(first.status, 0) << first.out;

  replace_in("tunes/reed-boat.yubifu", "六 1 2 1", "六 1 3 1");
  EXPECT_EQ(commit("echo stands >notes.txt && git add notes.txt").status, 0);
  const ProgramRun refused = commit("git add .");
  EXPECT_EQ(refused.status, 1) << refused.out;
  EXPECT_THAT(refused.out, HasSubstr("tunes/reed-boat.yubifu:7:"));
  EXPECT_THAT(shell("git status --short").out, HasSubstr("M  tunes/reed-boat.yubifu"));

  const ProgramRun whole =
      commit(program() + " convert tunes/reed-boat.yubifu -o exports/reed-boat.musicxml && " +
             program() + " convert tunes/reed-boat.yubifu -o exports/reed-boat.mid && git add .");
  EXPECT_EQ(whole.status, 0) << whole.out;
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
