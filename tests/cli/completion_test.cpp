// Completion: the table says what may follow, the program answers shells, and bash is asked what it
// offers.
#include "cli/completion.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "check/findings.h"
#include "cli/program.h"
#include "cli/verbs.h"

namespace yubifu::tests {
namespace {

using cli::OptionRow;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::IsSupersetOf;
using testing::Not;
using testing::StartsWith;

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
  folder.write("two words.mid", "");
  std::string script = fmt::format(
      "PATH={}:$PATH\nsource {}/src/packaging/yubifu.bash\nmkdir tunes\nCOMP_WORDS=(yubifu",
      std::filesystem::path(program_path()).parent_path().string(), YUBIFU_SOURCE_DIR);
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
    for (const std::string_view value : row.taken.values) {
      cli::Options options;
      EXPECT_EQ(row.taken.set(options, std::string(value)), std::nullopt)
          << row.name << ' ' << value;
    }
    if (value_of(row) != cli::Value::rule) continue;
    for (const std::string_view choice : check::kChoices.words()) {
      cli::Options options;
      EXPECT_EQ(row.taken.set(options, fmt::format("fast-leap={}", choice)), std::nullopt)
          << choice;
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
      return !row.taken.set(options, number).has_value();
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
  EXPECT_THAT(offered({"chart", "--to", ""}), ElementsAre("json", "pdf", "svg", "text"));
  EXPECT_THAT(offered({"convert", "--tempo", ""}), IsEmpty());
  EXPECT_THAT(offered({"schema", "s"}), ElementsAre("score", "settings", "sound"));
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

// In zsh and fish what is offered stands there with its meaning.
TEST(Completion, DescribesEveryVerbAndOption) {
  const std::string verbs = cli::completions({""});
  for (const cli::Verb& verb : cli::verbs()) {
    EXPECT_THAT(verbs, HasSubstr(fmt::format("{}\t{}\n", verb.name, verb.sentence)));
    const std::string options = cli::completions({std::string(verb.name), "-"});
    for (const OptionRow* row : cli::options_of(verb.name)) {
      EXPECT_THAT(options, HasSubstr(fmt::format("--{}\t{}\n", row->name, row->help)));
    }
  }
  EXPECT_THAT(cli::completions({"check", "--rule", "fast-l"}), StartsWith("fast-leap=\t"));
}

// A shell puts what it is given in place of the whole word, and is told what of it is no path.
TEST(Completion, AnswersWithWholeWords) {
  EXPECT_EQ(cli::completions({"convert", "--to=h"}), "--to=html\t\n");
  EXPECT_EQ(cli::completions({"check", "--rule=fast-leap=o"}), "--rule=fast-leap=off\t\n");
  EXPECT_EQ(cli::completions({"convert", "--output=tu"}), ":files\t--output=\n");
  EXPECT_EQ(cli::completions({"convert", "--out-dir", "tu"}), ":folders\t\n");
}

TEST(Completion, SpeaksTheLanguageOfItsUser) {
  const ProgramRun run = run_yubifu({"complete-word", "conv"}, TemporaryFolder().path(), {},
                                    {{"LC_ALL", "ja_JP.UTF-8"}});
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.out, StartsWith("convert\t"));
  EXPECT_THAT(run.out, HasSubstr("。\n"));
}

}  // namespace
}  // namespace yubifu::tests
