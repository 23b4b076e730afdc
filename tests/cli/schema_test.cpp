// The verb schema prints what stands in schemas/.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/help.h"
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

TEST(Schema, IsKeptByTheSettingsThatAreShown) {
  const TemporaryFolder folder;
  const std::filesystem::path root = YUBIFU_SOURCE_DIR;
  folder.write("example.json", bytes_of(root / "examples/settings.json"));
  folder.write("help.json", std::string(cli::example_settings()));
  folder.write("bad-size.json", R"({"flutes": [6.25]})");
  folder.write("bad-tuning.json", R"({"tuning": "442"})");
  folder.write("bad-member.json", R"({"flute": [6]})");
  const std::string command =
      "/usr/bin/python3 " + (root / "tests/oracles/score_schema.py").string() + ' ' +
      (root / "schemas/settings.schema.json").string() + ' ' + folder.path().string();
  EXPECT_EQ(std::system(command.c_str()), 0);
}

TEST(Schema, IsKeptByWhatSounds) {
  const TemporaryFolder folder;
  const std::filesystem::path root = YUBIFU_SOURCE_DIR;
  std::size_t count = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(root / "examples")) {
    if (entry.path().extension() != ".yubifu") continue;
    const std::string name = fmt::format("{}.sound.json", ++count);
    const ProgramRun run =
        run_yubifu({"convert", entry.path().string(), "-o", name}, folder.path());
    EXPECT_EQ(run.status, 0) << run.err;
  }
  EXPECT_GE(count, 5U);
  std::string bad = folder.read("1.sound.json");
  bad.replace(bad.find("\"start\": \"0\""), 12, "\"start\": \"0.\"");
  folder.write("bad-fraction.json", bad);
  const std::string command =
      "/usr/bin/python3 " + (root / "tests/oracles/score_schema.py").string() + ' ' +
      (root / "schemas/sound.schema.json").string() + ' ' + folder.path().string();
  EXPECT_EQ(std::system(command.c_str()), 0);
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
