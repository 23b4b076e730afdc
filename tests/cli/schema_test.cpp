// The verb schema prints what stands in schemas/.
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::HasSubstr;

std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

TEST(Schema, PrintsEachByItsNameAsItStands) {
  const TemporaryFolder folder;
  const std::string names = run_yubifu({"schema"}, folder.path()).out;
  std::size_t count = 0;
  const std::filesystem::path schemas = std::filesystem::path(YUBIFU_SOURCE_DIR) / "schemas";
  for (const auto& entry : std::filesystem::directory_iterator(schemas)) {
    const std::string file = entry.path().filename().string();
    const std::string name = file.substr(0, file.find('.'));
    EXPECT_THAT(names, HasSubstr(file));
    for (const std::string& asked : {name, file}) {
      const ProgramRun run = run_yubifu({"schema", asked}, folder.path());
      EXPECT_EQ(run.status, 0);
      EXPECT_EQ(run.out, bytes_of(entry.path())) << asked;
    }
    ++count;
  }
  EXPECT_GE(count, 5U);
}

TEST(Schema, WritesToAFile) {
  const TemporaryFolder folder;
  EXPECT_EQ(run_yubifu({"schema", "flute", "-o", "flute.json"}, folder.path()).status, 0);
  EXPECT_EQ(folder.read("flute.json"), run_yubifu({"schema", "flute"}, folder.path()).out);
}

TEST(Schema, AnUnknownNameIsAnsweredWithTheNearest) {
  const TemporaryFolder folder;
  const ProgramRun run = run_yubifu({"schema", "scroe"}, folder.path());
  EXPECT_EQ(run.status, 2);
  EXPECT_THAT(run.err, HasSubstr("did you mean score?"));
}

}  // namespace
}  // namespace yubifu::tests
