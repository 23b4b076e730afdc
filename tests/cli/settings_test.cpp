// The settings of a player: where they stand, what they serve, and what they never touch.
#include <filesystem>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/help.h"
#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

// Do, re, mi and fa of a flute in B: plain fingers on size 7 and on no other.
constexpr const char* kScaleInB = "flute: 7\ntempo: 90\n\n一 二 三 四 |=\n";

class PlayerSettings : public testing::Test {
 protected:
  void SetUp() override {
    std::filesystem::create_directories(folder_.path() / ".config/yubifu");
    folder_.write("tune.yubifu", kScaleInB);
    for (const std::string name : {"bare.musicxml", "tune.mid"}) {
      run({"convert", "tune.yubifu", "-o", name, "--fingering", "none"});
      if (folder_.read(name).empty()) run({"convert", "tune.yubifu", "-o", name});
    }
    run({"convert", "tune.yubifu", "-o", "tune.musicxml"});
    // As other programs write it: nothing in it names a flute.
    std::string bare = folder_.read("bare.musicxml");
    for (std::size_t at = bare.find("<miscellaneous>"); at != std::string::npos;
         at = bare.find("<miscellaneous>")) {
      const std::string end = "</miscellaneous>";
      bare.erase(at, bare.find(end) + end.size() - at);
    }
    folder_.write("bare.musicxml", bare);
  }

  void settings(const std::string& text) const {
    folder_.write(".config/yubifu/settings.json", text);
  }

  std::string place() const { return (folder_.path() / ".config/yubifu/settings.json").string(); }

  ProgramRun run(const std::vector<std::string>& arguments,
                 const Variables& environment = {}) const {
    return run_yubifu(arguments, folder_.path(), {}, environment);
  }

  ProgramRun fingered(std::vector<std::string> more = {}, const Variables& environment = {}) const {
    std::vector<std::string> arguments{"convert", "bare.musicxml", "--to", "text"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments, environment);
  }

  TemporaryFolder folder_;
};

TEST_F(PlayerSettings, ThatAreAbsentLeaveSizeEightAndSaySo) {
  const ProgramRun found = fingered();
  EXPECT_THAT(found.out, HasSubstr("flute: 8\n"));
  EXPECT_THAT(found.err, HasSubstr("no flute is named, so size 8 is taken"));
}

TEST_F(PlayerSettings, ChooseTheBestOfTheFlutesForAStaffWithoutFingers) {
  settings(R"({"flutes": [6, 7, 9], "tuning": 442})");
  const ProgramRun found = fingered();
  EXPECT_EQ(found.status, 0);
  EXPECT_THAT(found.out, AllOf(HasSubstr("flute: 7\ntuning: 442\n"), HasSubstr("一 二 三 四 |=")));
  EXPECT_THAT(found.err, StartsWith("bare.musicxml: note: no flute is named; of yours (6, 7, 9), 7 "
                                    "suits the melody best (--flute names another; your flutes "
                                    "stand in " +
                                    place() + ") [no-flute-given]\n"));
  const ProgramRun annotated = run({"annotate", "bare.musicxml", "-o", "fingered.musicxml"});
  EXPECT_THAT(annotated.err, HasSubstr("of yours (6, 7, 9), 7 suits"));
  EXPECT_THAT(folder_.read("fingered.musicxml"), HasSubstr("<text>四</text>"));
}

TEST_F(PlayerSettings, TellAnOnlyFlute) {
  settings(R"({"flutes": ["5"]})");
  EXPECT_THAT(fingered().err, HasSubstr("note: no flute is named, so yours is taken: 5 ("));
}

TEST_F(PlayerSettings, GiveWayToTheCommandLine) {
  settings(R"({"flutes": [7], "tuning": 442})");
  const ProgramRun other = fingered({"--flute", "9", "--tuning", "441"});
  EXPECT_THAT(other.out, HasSubstr("flute: 9\ntuning: 441\n"));
  EXPECT_THAT(other.err, Not(HasSubstr("no-flute-given")));
  for (const ProgramRun& without : {fingered({"--no-settings"}), fingered({}, {{"CI", "true"}})}) {
    EXPECT_THAT(without.out, AllOf(HasSubstr("flute: 8\n"), Not(HasSubstr("tuning"))));
    EXPECT_THAT(without.err, HasSubstr("so size 8 is taken"));
  }
}

TEST_F(PlayerSettings, StandWhereTheEnvironmentSays) {
  settings(R"({"flutes": [7]})");
  std::filesystem::create_directories(folder_.path() / "own/yubifu");
  folder_.write("own/yubifu/settings.json", R"({"flutes": [5]})");
  const std::string own = (folder_.path() / "own").string();
  EXPECT_THAT(fingered().out, HasSubstr("flute: 7\n"));
  EXPECT_THAT(fingered({}, {{"XDG_CONFIG_HOME", own}}).out, HasSubstr("flute: 5\n"));
  EXPECT_THAT(fingered({}, {{"APPDATA", own}}).out, HasSubstr("flute: 5\n"));
  // To be ignored (XDG Base Directory Specification).
  EXPECT_THAT(fingered({}, {{"XDG_CONFIG_HOME", "own"}}).out, HasSubstr("flute: 7\n"));
  EXPECT_THAT(fingered({}, {{"HOME", ""}}).out, HasSubstr("flute: 8\n"));
  EXPECT_THAT(run({"help", "settings"}).out, HasSubstr("The settings stand in " + place() + "\n"));
}

TEST_F(PlayerSettings, NeverTouchWhatHasFingers) {
  const std::vector<std::vector<std::string>> runs{
      {"convert", "plain.yubifu", "--to", "musicxml"},
      {"convert", "tune.musicxml", "--to", "text"},
      {"convert", "tune.mid", "--to", "text"},
      {"convert", "tune.json", "--to", "text"},
      {"check", "plain.yubifu", "bare.musicxml", "tune.mid"},
      {"compare", "plain.yubifu", "tune.musicxml"},
      {"compare", "bare.musicxml", "tune.mid"},
      {"chart"},
      {"tidy", "plain.yubifu"}};
  folder_.write("plain.yubifu", "\n一 二 三 四 |=\n");
  run({"convert", "plain.yubifu", "-o", "tune.json"});
  std::vector<ProgramRun> before;
  for (const auto& words : runs) before.push_back(run(words));
  settings(R"({"flutes": [5], "tuning": 450})");
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const ProgramRun after = run(runs[i]);
    EXPECT_FALSE(after.out.empty() && after.err.empty());
    EXPECT_EQ(after.out, before[i].out) << testing::PrintToString(runs[i]);
    EXPECT_EQ(after.err, before[i].err);
    EXPECT_EQ(after.status, before[i].status);
  }
}

TEST_F(PlayerSettings, PutTheirFlutesFirstInTheRanking) {
  folder_.write(".config/yubifu/own.json", R"({"yubifu-flute": 1, "title": "Own", "like": "6"})");
  settings(R"({"flutes": [3, "own.json"]})");
  const ProgramRun found = run({"fit", "bare.musicxml"});
  EXPECT_THAT(found.out,
              testing::ContainsRegex("\nflute [^\n]*\n(3|Own) [^\n]*\n(3|Own) [^\n]*\n7 "));
  EXPECT_THAT(found.err, HasSubstr("Your own flutes come first; they stand in " + place()));
  const ProgramRun asked = run({"fit", "bare.musicxml", "--flute", "3,7"});
  EXPECT_THAT(asked.out, testing::ContainsRegex("\nflute [^\n]*\n7 [^\n]*\n3 "));
  EXPECT_THAT(asked.err, IsEmpty());
}

TEST_F(PlayerSettings, GiveANewTuneItsFlute) {
  settings(R"({"flutes": [6, 8], "tuning": 442})");
  const ProgramRun made = run({"new", "Lamp"});
  EXPECT_THAT(made.out, HasSubstr("title: Lamp\nflute: 6\ntuning: 442\n"));
  EXPECT_EQ(made.err,
            "yubifu: note: no flute is named, so yours is taken: 6 (--flute names another) "
            "[no-flute-given]\n");
}

struct Broken {
  std::string text;
  std::string place;
  std::string sentence;
};

// With half of the settings the wrong flute could be chosen, so a fault puts all of them aside; the
// work goes on and says what was taken instead.
TEST_F(PlayerSettings, ThatAreBrokenAreToldWithTheirPlaceAndPutAside) {
  const std::vector<Broken> cases{
      {"{\"flutes\": [7],\n \"tuning\": 442,", ":2:15: warning: ", "this is not JSON"},
      {"{\"tuning\": 442,\n \"flutes\": [7, 14]}",
       ":2:16: warning: ", "there is no flute 14 (expected"},
      {"{\"flutes\": [7, null]}", ":1:16: warning: ", "flutes: expected a number or a string"},
      {"{\"flutes\": 7}", ":1:12: warning: ", "of kind"},
      {"{\"flutes\": [7],\n \"tuning\": 4420}",
       ":2:12: warning: ", "expected hertz from 300 to 600"},
      {"{\"flutes\": [7], \"language\": \"fr\"}", ":1:29: warning: ", "expected en or ja"},
      {"[7]", ":1:1: warning: ", "the settings file"},
      {"", ": warning: ", "this is not JSON"}};
  for (const Broken& broken : cases) {
    settings(broken.text);
    const ProgramRun found = fingered();
    EXPECT_EQ(found.status, 0) << broken.text;
    EXPECT_THAT(found.err, StartsWith(place() + broken.place)) << broken.text;
    EXPECT_THAT(found.err, HasSubstr(broken.sentence == "of kind" ? "an array" : broken.sentence));
    EXPECT_THAT(found.err, HasSubstr("until it is mended, the settings are ignored"));
    EXPECT_THAT(found.out, HasSubstr("flute: 8\n"));
    EXPECT_THAT(fingered({"--no-settings"}).err, Not(HasSubstr("settings.json")));
  }
}

TEST_F(PlayerSettings, WithAMemberThatNobodyKnowsAreUsedWithoutIt) {
  settings(R"({"$schema": "settings.schema.json", "flutes": [7], "flute": 6})");
  const ProgramRun found = fingered();
  EXPECT_THAT(found.err, StartsWith(place() + ":1:52: warning: the settings file has a member "
                                              "\"flute\" that is not known here and is left out "
                                              "(did you mean \"flutes\"?) [json-unknown]\n"));
  EXPECT_THAT(found.out, HasSubstr("flute: 7\n"));
}

TEST_F(PlayerSettings, WithAFluteFileThatCannotBeUsedFailWhereItIsNeeded) {
  settings(R"({"flutes": [7, "gone.json"]})");
  for (const ProgramRun& found : {fingered(), run({"fit", "bare.musicxml"})}) {
    EXPECT_EQ(found.status, 2);
    EXPECT_THAT(found.err, HasSubstr("gone.json: error: cannot read this"));
    EXPECT_THAT(found.err, HasSubstr(place() + ": error: the flute file "));
    EXPECT_THAT(found.out, IsEmpty());
  }
  EXPECT_EQ(fingered({"--flute", "7"}).status, 0);
  EXPECT_EQ(run({"check", "tune.yubifu"}).status, 0);
}

TEST_F(PlayerSettings, ChooseTheLanguageAfterTheOptionAndBeforeTheEnvironment) {
  settings(R"({"language": "ja"})");
  const std::string japanese = "篠笛";
  EXPECT_THAT(run({"help"}).out, HasSubstr(japanese));
  EXPECT_THAT(run({"help"}, {{"LC_ALL", "en_GB.UTF-8"}}).out, HasSubstr(japanese));
  EXPECT_THAT(run({"help", "--language", "en"}).out, Not(HasSubstr(japanese)));
  EXPECT_THAT(run({"help", "--no-settings"}).out, Not(HasSubstr(japanese)));
  // Its own faults are told in the language that holds in the end.
  settings(R"({"language": "ja", "flutes": [14]})");
  EXPECT_THAT(run({"help"}, {{"LC_ALL", "ja_JP.UTF-8"}}).err, Not(HasSubstr("there is no flute")));
  EXPECT_THAT(run({"help"}).err, HasSubstr("there is no flute"));
}

TEST_F(PlayerSettings, AreShownAsTheyAreRead) {
  const std::filesystem::path examples = std::filesystem::path(YUBIFU_SOURCE_DIR) / "examples";
  std::filesystem::copy(examples / "flutes", folder_.path() / ".config/yubifu/flutes",
                        std::filesystem::copy_options::recursive);
  std::filesystem::copy_file(examples / "settings.json", place());
  EXPECT_THAT(fingered({"--language", "en"}).err, HasSubstr("of yours (6, 7, 8, "));
  settings(std::string(cli::example_settings()));
  EXPECT_THAT(fingered({"--language", "en"}).err, StartsWith("bare.musicxml: note: "));
}

}  // namespace
}  // namespace yubifu::tests
