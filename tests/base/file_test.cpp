#include "base/file.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/rules.h"

namespace yubifu::base {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;
using testing::HasSubstr;

class FileTest : public testing::Test {
 protected:
  FileTest() {
    std::string name = (fs::temp_directory_path() / "yubifu-file-XXXXXX").string();
    folder_ = ::mkdtemp(name.data());
  }
  ~FileTest() override {
    std::error_code ignored;
    fs::permissions(folder_, fs::perms::owner_all, ignored);
    fs::remove_all(folder_, ignored);
  }

  std::string path(const std::string& name) const { return (folder_ / name).string(); }

  void put(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
  }
  std::string get(const std::string& name) const {
    std::ifstream in(folder_ / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }
  std::vector<std::string> names() const {
    std::vector<std::string> list;
    for (const auto& entry : fs::directory_iterator(folder_)) {
      list.push_back(entry.path().filename().string());
    }
    std::sort(list.begin(), list.end());
    return list;
  }
  mode_t mode(const std::string& name) const {
    struct stat about {};
    EXPECT_EQ(::stat(path(name).c_str(), &about), 0);
    return about.st_mode & 07777;
  }

  fs::path folder_;
};

void expect_one(const Diagnostics& diagnostics, const Rule& rule, const std::string& message) {
  ASSERT_EQ(diagnostics.size(), 1u);
  EXPECT_EQ(diagnostics[0].rule, &rule);
  EXPECT_FALSE(diagnostics[0].where);
  EXPECT_THAT(diagnostics[0].message, HasSubstr(message));
}

TEST_F(FileTest, ReadsEveryByte) {
  const std::string bytes("\0\r\n\xFF三\x1A", 8);
  put("a", bytes);
  const auto read = read_file(path("a"));
  EXPECT_TRUE(read.ok());
  EXPECT_EQ(read.value, bytes);
  put("empty", "");
  EXPECT_EQ(read_file(path("empty")).value, "");
  // More than the reader takes at once.
  const std::string long_text(300'000, 'x');
  put("long", long_text);
  EXPECT_EQ(read_file(path("long")).value, long_text);
}

TEST_F(FileTest, TellsWhyItCannotRead) {
  const auto missing = read_file(path("missing"));
  EXPECT_FALSE(missing.value);
  expect_one(missing.diagnostics, rule::unreadable_file, "No such file");
  const auto folder = read_file(folder_.string());
  EXPECT_FALSE(folder.value);
  expect_one(folder.diagnostics, rule::unreadable_file, "it is a folder");
  put("a", "x");
  const auto below = read_file(path("a/b"));
  expect_one(below.diagnostics, rule::unreadable_file, "Not a directory");
}

TEST_F(FileTest, RefusesAnInputLargerThanItsLimit) {
  // A file with a hole: long without bytes on the disk.
  put("large", "");
  fs::resize_file(folder_ / "large", kMostInputBytes);
  EXPECT_EQ(read_file(path("large")).value.value_or("").size(), kMostInputBytes);
  fs::resize_file(folder_ / "large", kMostInputBytes + 1);
  const auto read = read_file(path("large"));
  EXPECT_FALSE(read.value);
  expect_one(read.diagnostics, rule::input_too_large, "256 MiB");
}

TEST_F(FileTest, WritesANewFileAndLeavesNothingBeside) {
  EXPECT_TRUE(write_file(path("a"), std::string("x\0三", 5)).empty());
  EXPECT_EQ(get("a"), std::string("x\0三", 5));
  EXPECT_THAT(names(), ElementsAre("a"));
}

TEST_F(FileTest, ANewFileHasThePermissionsOfTheMask) {
  const mode_t mask = ::umask(0027);
  EXPECT_TRUE(write_file(path("a"), "x").empty());
  ::umask(mask);
  EXPECT_EQ(mode("a"), 0640u);
}

TEST_F(FileTest, ReplacesAFileAndKeepsItsPermissions) {
  put("a", "old and longer");
  // More than the mask of anybody leaves.
  ::chmod(path("a").c_str(), 0666);
  EXPECT_TRUE(write_file(path("a"), "new").empty());
  EXPECT_EQ(get("a"), "new");
  EXPECT_EQ(mode("a"), 0666u);
  EXPECT_THAT(names(), ElementsAre("a"));
}

TEST_F(FileTest, AReaderOfTheOldFileKeepsIt) {
  put("a", "old");
  std::ifstream reader(path("a"));
  EXPECT_TRUE(write_file(path("a"), "new").empty());
  std::string seen;
  reader >> seen;
  EXPECT_EQ(seen, "old");
}

TEST_F(FileTest, FollowsALinkToItsTarget) {
  put("target", "old");
  fs::create_symlink("target", folder_ / "link");
  fs::create_symlink("link", folder_ / "link-to-link");
  EXPECT_TRUE(write_file(path("link-to-link"), "new").empty());
  EXPECT_EQ(get("target"), "new");
  EXPECT_TRUE(fs::is_symlink(folder_ / "link"));
  EXPECT_TRUE(fs::is_symlink(folder_ / "link-to-link"));
  EXPECT_THAT(names(), ElementsAre("link", "link-to-link", "target"));
}

TEST_F(FileTest, RefusesALinkThatLeadsNowhere) {
  fs::create_symlink("missing", folder_ / "link");
  expect_one(write_file(path("link"), "new"), rule::unwritable_file, "leads nowhere");
  fs::create_symlink("loop", folder_ / "loop");
  expect_one(write_file(path("loop"), "new"), rule::unwritable_file, "leads nowhere");
  EXPECT_THAT(names(), ElementsAre("link", "loop"));
}

TEST_F(FileTest, TellsWhyItCannotWrite) {
  expect_one(write_file(folder_.string(), "x"), rule::unwritable_file, "it is a folder");
  expect_one(write_file(path("missing/a"), "x"), rule::unwritable_file, "No such file");
  put("a", "old");
  expect_one(write_file(path("a/b"), "x"), rule::unwritable_file, "Not a directory");
  EXPECT_EQ(get("a"), "old");
  EXPECT_THAT(names(), ElementsAre("a"));
}

TEST_F(FileTest, AFolderThatMayNotBeWrittenKeepsTheOldFile) {
  if (::geteuid() == 0) GTEST_SKIP() << "root may write everywhere";
  put("a", "old");
  ::chmod(folder_.c_str(), 0500);
  expect_one(write_file(path("a"), "new"), rule::unwritable_file, "Permission denied");
  ::chmod(folder_.c_str(), 0700);
  EXPECT_EQ(get("a"), "old");
  EXPECT_THAT(names(), ElementsAre("a"));
}

TEST_F(FileTest, WritesToADeviceWithoutReplacingIt) {
  EXPECT_TRUE(write_file("/dev/null", "x").empty());
  EXPECT_TRUE(fs::is_character_file("/dev/null"));
  if (fs::exists("/dev/full")) {
    expect_one(write_file("/dev/full", "x"), rule::unwritable_file, "No space left");
  }
}

// What /dev/stdout is in a pipeline: a link whose target has no name.
TEST_F(FileTest, WritesIntoAPipe) {
  int ends[2] = {-1, -1};
  ASSERT_EQ(::pipe(ends), 0);
  EXPECT_TRUE(write_file("/proc/self/fd/" + std::to_string(ends[1]), "three").empty());
  ::close(ends[1]);
  std::string seen(10, '?');
  EXPECT_EQ(::read(ends[0], seen.data(), seen.size()), 5);
  ::close(ends[0]);
  EXPECT_EQ(seen.substr(0, 5), "three");
}

}  // namespace
}  // namespace yubifu::base
