// The verb tidy: one layout, and nothing else changed.
#include <filesystem>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kUntidy =
    "# a tune for wet days\n"
    "flute:   六\n"
    "title: Rain\n"
    "\n"
    "ニ 三 四 五 | 六 七 1 -|  # look-alikes\n"
    "(5 6)  7 6 - | -  - ・ ・ ||\n"
    "\n"
    "# the second half\n"
    "五 ×三 五 - |=\n";

constexpr const char* kTidy =
    "# a tune for wet days\n"
    "title: Rain\n"
    "flute: 6\n"
    "meter: 4/4\n"
    "\n"
    "二    三 四 五 | 六 七 1  -  | # look-alikes\n"
    "(5 6) 7  6  -  | -  -  ・ ・ ||\n"
    "\n"
    "# the second half\n"
    "五 三メ 五 - |=\n";

ProgramRun tidy(const TemporaryFolder& folder, std::vector<std::string> words,
                const std::string& input = {}) {
  words.insert(words.begin(), "tidy");
  return run_yubifu(words, folder.path(), input);
}

TEST(Tidy, PutsOneFileIntoItsLayout) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kUntidy);
  const ProgramRun run = tidy(folder, {"tune.yubifu"});
  EXPECT_EQ(run.status, 0);
  EXPECT_EQ(run.out, kTidy);
  EXPECT_EQ(folder.read("tune.yubifu"), kUntidy);
  EXPECT_EQ(tidy(folder, {"-"}, kUntidy).out, kTidy);
  EXPECT_EQ(tidy(folder, {"-"}, kTidy).out, kTidy);
}

TEST(Tidy, RewritesFilesInTheirPlaces) {
  const TemporaryFolder folder;
  std::filesystem::create_directory(folder.path() / "tunes");
  folder.write("tunes/a.yubifu", kUntidy);
  folder.write("tunes/b.yubifu", kTidy);
  folder.write("tunes/notes.txt", "no tune");
  const auto before = std::filesystem::last_write_time(folder.path() / "tunes/b.yubifu");
  const ProgramRun run = tidy(folder, {"--in-place", "tunes"});
  EXPECT_EQ(run.status, 0);
  EXPECT_EQ(run.err, "tunes/a.yubifu: tidied\n");
  EXPECT_EQ(folder.read("tunes/a.yubifu"), kTidy);
  EXPECT_EQ(std::filesystem::last_write_time(folder.path() / "tunes/b.yubifu"), before);
}

TEST(Tidy, TellsWhatItWouldChange) {
  const TemporaryFolder folder;
  folder.write("a.yubifu", kUntidy);
  folder.write("b.yubifu", kTidy);
  const ProgramRun run = tidy(folder, {"--check", "a.yubifu", "b.yubifu"});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.out,
              testing::StartsWith("--- a.yubifu\n+++ a.yubifu (tidy)\n@@ -1,9 +1,10 @@\n"));
  EXPECT_THAT(run.out, HasSubstr("\n-五 ×三 五 - |=\n+五 三メ 五 - |=\n"));
  EXPECT_EQ(folder.read("a.yubifu"), kUntidy);
  const ProgramRun good = tidy(folder, {"--check", "b.yubifu"});
  EXPECT_EQ(good.status, 0);
  EXPECT_THAT(good.out, IsEmpty());
}

// Who asks for --check must not find the file rewritten.
TEST(Tidy, RewritesNothingWithCheckWhereverItStands) {
  for (const std::vector<std::string>& words : std::vector<std::vector<std::string>>{
           {"--check", "--in-place", "a.yubifu"}, {"--in-place", "a.yubifu", "--check"}}) {
    const TemporaryFolder folder;
    folder.write("a.yubifu", kUntidy);
    const ProgramRun run = tidy(folder, words);
    EXPECT_EQ(run.status, 1);
    EXPECT_THAT(run.out, testing::StartsWith("--- a.yubifu\n"));
    EXPECT_EQ(folder.read("a.yubifu"), kUntidy);
  }
}

TEST(Tidy, SeesLineEndsAndByteOrderMarks) {
  const TemporaryFolder folder;
  std::string text = kTidy;
  for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 2)) {
    text.insert(at, "\r");
  }
  folder.write("windows.yubifu", "\xEF\xBB\xBF" + text);
  EXPECT_EQ(tidy(folder, {"--check", "windows.yubifu"}).status, 1);
  EXPECT_EQ(tidy(folder, {"windows.yubifu"}).out, kTidy);
}

TEST(Tidy, GoesToAsciiAndBack) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kTidy);
  const ProgramRun ascii = tidy(folder, {"tune.yubifu", "--ascii"});
  EXPECT_THAT(ascii.out, HasSubstr("r5 r3m r5 - |="));
  EXPECT_THAT(ascii.out, HasSubstr("title: Rain\n"));
  EXPECT_EQ(tidy(folder, {"-"}, ascii.out).out, kTidy);
}

TEST(Tidy, LeavesFaultyFilesAlone) {
  const TemporaryFolder folder;
  const std::string faulty = "flute: 6\n\n五 六 七 六 | 五 六 七 | 五 - - - |=\n";
  folder.write("faulty.yubifu", faulty);
  folder.write("other.yubifu", kUntidy);
  const ProgramRun run = tidy(folder, {"--in-place", "faulty.yubifu", "other.yubifu"});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("faulty.yubifu:3:11: error"));
  EXPECT_EQ(folder.read("faulty.yubifu"), faulty);
  EXPECT_EQ(folder.read("other.yubifu"), kTidy);
}

TEST(Tidy, TakesFingeringTextAlone) {
  const TemporaryFolder folder;
  folder.write("tune.yubifu", kTidy);
  ASSERT_EQ(run_yubifu({"convert", "tune.yubifu", "-o", "tune.mid"}, folder.path()).status, 0);
  const std::string before = folder.read("tune.mid");
  const ProgramRun run = tidy(folder, {"--in-place", "tune.mid"});
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("tidy takes fingering text; this is midi"));
  EXPECT_EQ(folder.read("tune.mid"), before);
}

TEST(Tidy, RefusesPlansThatCannotWork) {
  const TemporaryFolder folder;
  folder.write("a.yubifu", kTidy);
  EXPECT_EQ(tidy(folder, {}).status, 2);
  EXPECT_THAT(tidy(folder, {"a.yubifu", "a.yubifu"}).err, HasSubstr("--in-place"));
  EXPECT_EQ(tidy(folder, {"--in-place", "-"}).status, 2);
  EXPECT_EQ(tidy(folder, {"--in-place", "a.yubifu", "-o", "b.yubifu"}).status, 2);
}

}  // namespace
}  // namespace yubifu::tests
