// Completion scripts: the table says what may follow, and bash is asked what it offers.
#include "cli/completion.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "check/findings.h"
#include "cli/completion_parts.h"
#include "cli/program.h"

namespace yubifu::tests {
namespace {

using cli::OptionRow;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::IsSupersetOf;
using testing::Not;

std::string output_of(const std::string& command) {
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(::popen(command.c_str(), "r"), ::pclose);
  std::string out;
  std::array<char, 4096> part{};
  while (std::fgets(part.data(), part.size(), pipe.get()) != nullptr) out += part.data();
  return out;
}

// What bash offers for the last of `words`, in a folder with two files and a folder.
std::vector<std::string> offered(const std::vector<std::string>& words) {
  const TemporaryFolder folder;
  folder.write("yubifu.bash", cli::completion(cli::Shell::bash));
  folder.write("two words.mid", "");
  std::string script = "source ./yubifu.bash\nmkdir tunes\nCOMP_WORDS=(yubifu";
  for (const std::string& word : words) script += fmt::format(" '{}'", word);
  script += fmt::format(")\nCOMP_CWORD={}\n", words.size());
  script += "_yubifu\n((${#COMPREPLY[@]})) && printf '%s\\n' \"${COMPREPLY[@]}\"\n";
  folder.write("ask.bash", script);
  const std::string out =
      output_of("cd '" + folder.path().string() + "' && bash --norc ask.bash 2>&1");
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < out.size();) {
    const std::size_t end = out.find('\n', at);
    lines.push_back(out.substr(at, end - at));
    at = end + 1;
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

TEST(Completion, OffersOnlyValuesThatTheOptionTakes) {
  for (const OptionRow& row : cli::option_table()) {
    for (const std::string_view value : row.values) {
      cli::Options options;
      EXPECT_EQ(row.set(options, std::string(value)), std::nullopt) << row.name << ' ' << value;
    }
    if (value_of(row) != cli::Value::rule) continue;
    for (const std::string_view choice : check::choice_words()) {
      cli::Options options;
      EXPECT_EQ(row.set(options, fmt::format("fast-leap={}", choice)), std::nullopt) << choice;
    }
  }
}

// An option of words whose row does not list them would be completed with nothing.
TEST(Completion, KnowsTheWordsOfEveryOptionThatIsNoNumber) {
  for (const OptionRow& row : cli::option_table()) {
    if (value_of(row) != cli::Value::free) continue;
    const std::array numbers{"1", "24", "440", "3/4"};
    EXPECT_TRUE(std::any_of(numbers.begin(), numbers.end(), [&](const char* number) {
      cli::Options options;
      return !row.set(options, number).has_value();
    })) << row.name;
  }
}

TEST(Completion, BashOffersVerbsFirst) {
  EXPECT_THAT(offered({""}), IsSupersetOf({"convert", "schema", "help", "--version"}));
  EXPECT_THAT(offered({"co"}), ElementsAre("compare", "convert"));
  EXPECT_THAT(offered({"help", "an"}), ElementsAre("annotate"));
  EXPECT_THAT(offered({"help", "m"}), ElementsAre("marks"));
  EXPECT_THAT(offered({"new", "t"}), IsEmpty());
  EXPECT_THAT(offered({"--language", "ja", "an"}), ElementsAre("annotate"));
  EXPECT_THAT(offered({"--language", ""}), ElementsAre("en", "ja"));
}

TEST(Completion, BashOffersTheOptionsOfTheVerb) {
  EXPECT_THAT(offered({"tidy", "--i"}), ElementsAre("--in-place"));
  const auto all = offered({"convert", "-"});
  EXPECT_THAT(all, IsSupersetOf({"-o", "--output", "-f", "--flute", "--help"}));
  EXPECT_THAT(all, Not(Contains("--in-place")));
}

TEST(Completion, BashOffersValues) {
  EXPECT_THAT(offered({"convert", "--to", "m"}), ElementsAre("midi", "musicxml", "mxl"));
  EXPECT_THAT(offered({"convert", "--to", "=", "h"}), ElementsAre("html"));
  EXPECT_THAT(offered({"chart", "--to", ""}), ElementsAre("svg", "text"));
  EXPECT_THAT(offered({"convert", "--tempo", ""}), IsEmpty());
  EXPECT_THAT(offered({"schema", "s"}), ElementsAre("score", "settings"));
  EXPECT_THAT(offered({"check", "--rule", "fast-l"}), ElementsAre("fast-leap="));
  EXPECT_THAT(offered({"check", "--rule", "fast-leap", "=", "o"}), ElementsAre("off"));
  EXPECT_THAT(offered({"check", "--rule", "fast-leap", "=", "off", "--ru"}),
              ElementsAre("--rule", "--rules"));
}

TEST(Completion, BashOffersFiles) {
  EXPECT_THAT(offered({"convert", "t"}), ElementsAre("tunes", "two words.mid"));
  EXPECT_THAT(offered({"convert", "-o", "two"}), ElementsAre("two words.mid"));
  EXPECT_THAT(offered({"chart", "--score", "=", "two"}), ElementsAre("two words.mid"));
  EXPECT_THAT(offered({"convert", "--out-dir", "t"}), ElementsAre("tunes"));
  EXPECT_THAT(offered({"chart", "t"}), IsEmpty());
  EXPECT_THAT(offered({"convert", "--", "-"}), IsEmpty());
}

TEST(Completion, ZshAndFishDescribeEveryVerbAndOption) {
  const std::string zsh = cli::completion(cli::Shell::zsh);
  const std::string fish = cli::completion(cli::Shell::fish);
  for (const cli::Verb& verb : cli::verbs()) {
    EXPECT_THAT(zsh, HasSubstr(fmt::format("'{}:{}'", verb.name, verb.sentence)));
    EXPECT_THAT(fish, HasSubstr(fmt::format("-a {} -d '{}'", verb.name, verb.sentence)));
  }
  for (const OptionRow& row : cli::option_table()) {
    const std::string begin(row.help.substr(0, row.help.find('\'')));
    EXPECT_THAT(zsh, HasSubstr("[" + begin)) << row.name;
    EXPECT_THAT(fish, HasSubstr(fmt::format(" -l {} ", row.name))) << row.name;
    EXPECT_THAT(fish, HasSubstr("-d '" + begin)) << row.name;
  }
}

// The help of --alter has one.
TEST(Completion, ApostrophesDoNotEndADescription) {
  EXPECT_THAT(cli::completion(cli::Shell::zsh), HasSubstr("into the staff'\\''s alterations]"));
  EXPECT_THAT(cli::completion(cli::Shell::fish), HasSubstr("into the staff\\'s alterations'"));
}

}  // namespace
}  // namespace yubifu::tests
