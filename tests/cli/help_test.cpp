// What help says of a verb holds for that verb.
#include "cli/help.h"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/options/option_table.h"
#include "cli/program.h"
#include "cli/verbs.h"

namespace yubifu::tests {
namespace {

using testing::HasSubstr;
using testing::Not;

// The options that a text names, with their dashes.
std::set<std::string> options_in(const std::string& text) {
  static const std::regex option("(^|[^-a-z])(--[a-z][-a-z]*)");
  std::set<std::string> found;
  for (std::sregex_iterator at(text.begin(), text.end(), option), end; at != end; ++at) {
    found.insert((*at)[2]);
  }
  return found;
}

// An option is explained for one verb with words that fit another.
TEST(Help, NamesOnlyOptionsOfItsVerb) {
  for (const cli::Verb& verb : cli::verbs()) {
    std::set<std::string> known;
    for (const cli::OptionRow* row : cli::options_of(verb.name)) {
      EXPECT_TRUE(known.insert("--" + std::string(row->name)).second)
          << verb.name << " has --" << row->name << " twice";
    }
    for (const std::string& named : options_in(cli::verb_help(verb))) {
      EXPECT_TRUE(known.contains(named)) << verb.name << " does not take " << named;
    }
  }
}

// `word` as one of several that a text offers.
bool offers(std::string_view text, std::string_view word) {
  return std::regex_search(std::string(text),
                           std::regex("(^|[ :|])" + std::string(word) + "($|[ ,;|:)])"));
}

// Where help lists the words of an option, it lists all of them, and none that is not offered.
TEST(Help, ListsTheWordsThatCompletionOffers) {
  for (const cli::OptionRow& row : cli::option_table()) {
    const bool listed =
        std::any_of(row.taken.values.begin(), row.taken.values.end(), [&](std::string_view word) {
          return offers(row.help, word) || offers(row.placeholder, word);
        });
    if (!listed) continue;
    for (const std::string_view word : row.taken.values) {
      EXPECT_TRUE(offers(row.help, word) || offers(row.placeholder, word))
          << row.verbs.front() << " --" << row.name << ' ' << word;
    }
    if (std::find(row.taken.values.begin(), row.taken.values.end(), "none") ==
        row.taken.values.end()) {
      EXPECT_FALSE(offers(row.help, "none")) << row.verbs.front() << " --" << row.name;
    }
  }
}

TEST(Help, AVerbWithoutInputsHasNoHoleInItsUse) {
  for (const cli::Verb& verb : cli::verbs()) {
    const std::string use = cli::verb_help(verb).substr(0, cli::verb_help(verb).find('\n'));
    EXPECT_THAT(use, HasSubstr("[OPTIONS]"));
    EXPECT_THAT(use, Not(HasSubstr("  "))) << use;
  }
}

// What a line of shell says on its standard output.
std::string output_of(const std::string& line) {
  std::string text;
  FILE* const pipe = ::popen(line.c_str(), "r");
  for (int byte = std::fgetc(pipe); byte != EOF; byte = std::fgetc(pipe)) {
    text += static_cast<char>(byte);
  }
  ::pclose(pipe);
  return text;
}

ProgramRun help_in(const std::string& language, const std::string& topic) {
  return run_yubifu({"help", topic, "--language", language}, TemporaryFolder().path());
}

// The tune that help opens with, without what stands around it.
std::string shown_tune(const std::string& help) {
  const std::size_t begin = help.find("title:");
  return help.substr(begin, help.find("\n\n", help.find("\n>", begin)) - begin) + '\n';
}

// What a player types first must be right as it stands.
TEST(Help, OpensTheNotationWithAWholeTune) {
  for (const std::string language : {"en", "ja"}) {
    const ProgramRun help = help_in(language, "notation");
    const std::string tune = shown_tune(help.out);
    EXPECT_LT(help.out.find(tune), 300U);
    EXPECT_EQ(std::count(tune.begin(), tune.end(), '\n'), 7) << tune;  // six and an empty one
    const ProgramRun checked = run_yubifu({"check", "-"}, TemporaryFolder().path(), tune);
    EXPECT_EQ(checked.err, "1 file checked: 0 errors, 0 warnings, 0 notes\n") << tune;
  }
}

// "一…七" stands for its ends, two spaces for another way to write the same.
std::vector<std::string> spellings_of(std::string_view shown) {
  std::vector<std::string> all;
  while (!shown.empty()) {
    const std::string_view one = shown.substr(0, shown.find("  "));
    shown.remove_prefix(std::min(shown.size(), one.size() + 2));
    constexpr std::string_view kTo = "…";
    const std::size_t to = one.find(kTo);
    all.emplace_back(one.substr(0, to));
    if (to != std::string_view::npos) all.emplace_back(one.substr(to + kTo.size()));
  }
  return all;
}

// A tune that holds what help shows of a topic, and is right when that is.
std::string tune_with(std::string_view topic, const std::string& shown) {
  if (topic == "header") {
    // In free time any beat fits.
    return shown + (shown.starts_with("meter") ? "" : "\nmeter: free") + "\n\n三 五 六 - |=\n";
  }
  const bool counts = shown.find(" | ") != std::string::npos && shown.ends_with('-');
  const std::string head =
      counts || shown.starts_with("{irregular") ? "meter: 4/4\n\n" : "meter: free\n\n";
  if (topic == "song") return head + "三 五 六 |=\n" + shown + '\n';
  if (topic == "directions") {
    const bool ends = shown == "{fine}";
    return head + "五 | " + (ends ? "三 " : "") + shown + (ends ? " |=\n" : " 三 |=\n");
  }
  return head + shown + (shown.ends_with("|=") ? "\n" : " |=\n");
}

TEST(Help, ShowsTheNotationAsItIsRead) {
  const std::string help = help_in("en", "notation").out;
  std::size_t read = 0;
  for (const cli::HelpSection& section : cli::notation_sections()) {
    EXPECT_THAT(help, HasSubstr(std::string(section.heading) + "\n"));
    for (const cli::HelpLine& line : section.lines) {
      EXPECT_THAT(help, HasSubstr("  " + std::string(line.spelling)));
      for (const std::string& spelling : spellings_of(line.spelling)) {
        const std::string tune = tune_with(section.topic, spelling);
        const ProgramRun run = run_yubifu({"tidy", "-"}, TemporaryFolder().path(), tune);
        EXPECT_EQ(run.status, 0) << tune << run.err;
        EXPECT_THAT(run.err, testing::IsEmpty()) << tune;
        ++read;
      }
    }
  }
  EXPECT_GT(read, 70U);
}

// One may ask for a part alone, and is led to what exists.
TEST(Help, LeadsToItsTopics) {
  const std::string help = run_yubifu({"help"}, TemporaryFolder().path()).out;
  for (const cli::HelpTopic& topic : cli::help_topics()) {
    const std::string name(topic.name);
    EXPECT_THAT(help, HasSubstr("\n  " + name + ' '));
    EXPECT_EQ(help_in("en", name).status, 0) << name;
    EXPECT_EQ(cli::find_verb(topic.name), nullptr);
  }
  EXPECT_THAT(help_in("en", "marks").out, HasSubstr("finger strike"));
  EXPECT_THAT(help_in("en", "header").out,
              HasSubstr("words a minute; in 6/8, 9/8, 12/8 dotted quarters"));
  EXPECT_EQ(help_in("en", "makrs").err,
            "yubifu: error: there is no help on makrs: did you mean marks?\n");
  EXPECT_THAT(help_in("en", "xyzzy").err, HasSubstr("there is on convert, annotate, fit"));
}

// Packages put the program and the page where a prefix has its bin and share, wherever that is.
TEST(Help, SaysWhereThePageIs) {
  namespace fs = std::filesystem;
  const TemporaryFolder folder;
  const fs::path program = folder.path() / "bin/yubifu";
  const fs::path page = folder.path() / "share/yubifu/web/yubifu.html";
  fs::create_directories(program.parent_path());
  fs::copy_file(program_path(), program);
  const auto help = [&](const std::string& language) {
    return output_of("'" + program.string() + "' help page --language " + language);
  };
  EXPECT_THAT(help("en"), HasSubstr("'sh src/web/build.sh'"));
  EXPECT_THAT(help("ja"), HasSubstr("sh src/web/build.sh"));
  fs::create_directories(page.parent_path());
  folder.write("share/yubifu/web/yubifu.html", "<!doctype html>");
  for (const std::string language : {"en", "ja"}) {
    EXPECT_THAT(help(language), HasSubstr("\n  " + page.string() + '\n'));
    EXPECT_THAT(help(language), Not(HasSubstr("build.sh")));
  }
  fs::rename(folder.path() / "share/yubifu/web", folder.path() / "web");
  EXPECT_THAT(help("en"), HasSubstr('\n' + ("  " + (folder.path() / "web/yubifu.html").string())));
}

// The notes of 一 that Japanese Wikipedia (篠笛) gives: 1 in F, 3 in G, 6 in B flat, 7 in B, 8 in
// C, 10 in D, 12 in E.
TEST(Help, ListsTheSizesWithTheirDo) {
  for (const std::string language : {"en", "ja"}) {
    const std::string help = help_in(language, "flute").out;
    for (const char* size :
         {" 1  F4", " 3  G4", " 6  Bb4", " 7  B4\n", " 8  C5", "10  D5", "12  E5",
          "--flute flutes/lantern.json", "{flute flutes/lantern.json}"}) {
      EXPECT_THAT(help, HasSubstr(size));
    }
  }
}

}  // namespace
}  // namespace yubifu::tests
