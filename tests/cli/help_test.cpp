// What help says of a verb holds for that verb.
#include "cli/help.h"

#include <algorithm>
#include <regex>
#include <set>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/option_table.h"
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
        std::any_of(row.values.begin(), row.values.end(), [&](std::string_view word) {
          return offers(row.help, word) || offers(row.placeholder, word);
        });
    if (!listed) continue;
    for (const std::string_view word : row.values) {
      EXPECT_TRUE(offers(row.help, word) || offers(row.placeholder, word))
          << row.verbs.front() << " --" << row.name << ' ' << word;
    }
    if (std::find(row.values.begin(), row.values.end(), "none") == row.values.end()) {
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

}  // namespace
}  // namespace yubifu::tests
