// The language of messages: by the option or the environment, and what it leaves alone.
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.h"

namespace yubifu::tests {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr const char* kTwoBars = "flute: 6\n\n一 二 三 四 |\n三 二 九 一 |=\n";
constexpr const char* kEnglish = "has no 九 in its table";
constexpr const char* kJapanese = "九";

// The environment of the program for as long as it lives.
class Environment {
 public:
  explicit Environment(const Variables& values) {
    for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG", "LANGUAGE"}) {
      const char* before = std::getenv(name);
      if (before != nullptr) before_.emplace_back(name, before);
      unsetenv(name);
    }
    for (const auto& [name, value] : values) setenv(name.c_str(), value.c_str(), 1);
  }
  Environment(const Environment&) = delete;
  Environment& operator=(const Environment&) = delete;
  ~Environment() {
    for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG", "LANGUAGE"}) unsetenv(name);
    for (const auto& [name, value] : before_) setenv(name.c_str(), value.c_str(), 1);
  }

 private:
  std::vector<std::pair<std::string, std::string>> before_;
};

class Language : public testing::Test {
 protected:
  void SetUp() override { folder_.write("tune.yubifu", kTwoBars); }

  ProgramRun run(const std::vector<std::string>& arguments) const {
    return run_yubifu(arguments, folder_.path());
  }

  TemporaryFolder folder_;
};

TEST_F(Language, IsThatOfTheEnvironmentInTheOrderOfItsVariables) {
  const std::vector<std::pair<Variables, bool>> cases{
      {{}, false},
      {{{"LANG", "ja_JP.UTF-8"}}, true},
      {{{"LANG", "ja"}}, true},
      {{{"LANG", "en_GB.UTF-8"}}, false},
      {{{"LANG", "fr_FR.UTF-8"}}, false},
      {{{"LANG", "en_GB.UTF-8"}, {"LC_MESSAGES", "ja_JP.UTF-8"}}, true},
      {{{"LANG", "ja_JP.UTF-8"}, {"LC_ALL", "C"}}, false},
      {{{"LANG", "ja_JP.UTF-8"}, {"LC_ALL", ""}}, true},
      {{{"LANG", "en_GB.UTF-8"}, {"LANGUAGE", "fr:ja:en"}}, true},
      {{{"LANG", "C"}, {"LANGUAGE", "ja"}}, false},
      {{{"LANG", "C.UTF-8"}, {"LANGUAGE", "ja"}}, false},
  };
  for (const auto& [variables, japanese] : cases) {
    const Environment environment(variables);
    const ProgramRun found = run({"check", "tune.yubifu"});
    EXPECT_EQ(found.err.find(kEnglish) == std::string::npos, japanese) << found.err;
    EXPECT_THAT(found.err, HasSubstr(kJapanese));
    EXPECT_EQ(found.status, 1);
  }
}

TEST_F(Language, IsThatOfTheOptionBeforeTheEnvironment) {
  const Environment environment(Variables{{"LANG", "ja_JP.UTF-8"}});
  EXPECT_THAT(run({"--language", "en", "check", "tune.yubifu"}).err, HasSubstr(kEnglish));
  EXPECT_THAT(run({"check", "tune.yubifu", "--language=en"}).err, HasSubstr(kEnglish));
  EXPECT_THAT(run({"check", "--language", "ja", "tune.yubifu"}).err, Not(HasSubstr(kEnglish)));
}

TEST_F(Language, NeedsNothingBesideTheProgram) {
  namespace fs = std::filesystem;
  const fs::path copied = fs::path(folder_.path()) / "copied";
  fs::copy_file(program_path(), copied);
  const std::string before = program_path();
  setenv("YUBIFU_PROGRAM", copied.c_str(), 1);
  const ProgramRun found = run({"--language", "ja", "check", "tune.yubifu"});
  setenv("YUBIFU_PROGRAM", before.c_str(), 1);
  EXPECT_THAT(found.err, Not(HasSubstr(kEnglish)));
  EXPECT_EQ(found.status, 1);
}

TEST_F(Language, ThatIsNotKnownIsRefused) {
  for (const std::vector<std::string>& words : std::vector<std::vector<std::string>>{
           {"--language", "de", "help"}, {"help", "--language"}, {"--language=", "help"}}) {
    const ProgramRun refused = run(words);
    EXPECT_EQ(refused.status, 2);
    EXPECT_THAT(refused.err, HasSubstr("--language takes en or ja"));
  }
}

TEST_F(Language, OfAWordBehindTwoDashesIsAFileName) {
  const ProgramRun refused = run({"check", "--", "--language", "ja"});
  EXPECT_THAT(refused.err, HasSubstr("--language"));
  EXPECT_THAT(refused.err, HasSubstr("cannot read this"));
}

TEST_F(Language, IsThatOfTheHelpAndOfWrongUsage) {
  EXPECT_THAT(run({"help", "--language", "ja"}).out, HasSubstr("篠笛"));
  EXPECT_THAT(run({"help", "convert", "--language", "ja"}).out, Not(HasSubstr("Flute and pitch")));
  EXPECT_THAT(run({"konvert", "--language", "ja"}).err, Not(HasSubstr("there is no verb")));
}

// What a troupe keeps in its repository must not depend on who exports it.
TEST_F(Language, LeavesExportsAsTheyAre) {
  folder_.write("tune.yubifu", "title: Lamp\nflute: 6\n\n一 二 三 四 |=\n");
  for (const std::string name : {"musicxml", "mid", "json", "yubifu"}) {
    const auto convert = [&](const std::string& language) {
      run({"convert", "tune.yubifu", "-o", language + "." + name, "--language", language});
      return folder_.read(language + "." + name);
    };
    const std::string english = convert("en");
    EXPECT_FALSE(english.empty());
    EXPECT_TRUE(english == convert("ja")) << name;
  }
}

// Screen readers choose their voice by it.
TEST_F(Language, IsNamedInPagesBesideWhatIsWrittenInIt) {
  folder_.write("tune.yubifu", "title: Lamp\nflute: 6\n\n一 二 三 8 |=\n");
  for (const std::string language : {"en", "ja"}) {
    run({"convert", "tune.yubifu", "-o", "page.html", "--language", language});
    const std::string page = folder_.read("page.html");
    EXPECT_THAT(page, HasSubstr("<html lang=\"" + language + "\">"));
    const bool english = language == "en";
    EXPECT_THAT(page, HasSubstr("lang=\"" + language + "\">" + (english ? "Fingering" : "篠笛")));
    EXPECT_EQ(page.find("advice.</p>") != std::string::npos, english);
    EXPECT_EQ(page.find("ください。</p>") != std::string::npos, !english);
  }
}

// Editors know a finding by the words behind its place.
TEST_F(Language, LeavesPlacesSeveritiesAndRuleNames) {
  const ProgramRun found = run({"check", "tune.yubifu", "--language", "ja"});
  EXPECT_THAT(found.err, HasSubstr("tune.yubifu:4:5: error: "));
  EXPECT_THAT(found.err, HasSubstr("[sign-not-on-flute]"));
}

// What is no finding has the same words of severity as what is one.
TEST_F(Language, HasOneWordForEachSeverity) {
  std::string many = "flute: 6\nmeter: free\n\n";
  for (int note = 0; note < 2'000; ++note) many += "九 ";
  folder_.write("many.yubifu", many + "|=\n");
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{"konvert"},
                                             {"annotate", "tune.yubifu"},
                                             {"check", "many.yubifu"},
                                             {"check", "nowhere.yubifu"},
                                             {"chart"},
                                             {"chart", "--to", "svg", "--flute", "9,10"},
                                             {"convert", "tune.yubifu", "-o", "nowhere/tune.mid"},
                                             {"new", "灯"}}) {
    std::vector<std::string> arguments = words;
    arguments.insert(arguments.end(), {"--language", "ja"});
    const ProgramRun found = run(arguments);
    EXPECT_THAT(found.err, testing::ContainsRegex(": (error|warning|note): ")) << words.front();
    for (const char* other : {"エラー:", "警告:", "注記:"}) {
      EXPECT_THAT(found.err, Not(HasSubstr(other)));
    }
    EXPECT_THAT(found.err, Not(HasSubstr("???")));
  }
}

}  // namespace
}  // namespace yubifu::tests
