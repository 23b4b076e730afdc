// Over all folders together: reports name rules, so no two rules may share a name.
#include "cli/rules.h"

#include <set>
#include <string_view>

#include <gtest/gtest.h>

namespace yubifu::cli {
namespace {

TEST(RulesOfAllFolders, HaveNamesOfTheirOwn) {
  std::set<std::string_view> names;
  for (const base::Rule* rule : all_rules()) {
    EXPECT_TRUE(names.insert(rule->name).second) << rule->name;
  }
}

TEST(RulesOfAllFolders, AreDescribedAndHaveExamples) {
  for (const base::Rule* rule : all_rules()) {
    EXPECT_EQ(rule->name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-"),
              std::string_view::npos)
        << rule->name;
    EXPECT_TRUE(rule->sentence.ends_with('.')) << rule->name;
    EXPECT_FALSE(rule->wrong.empty()) << rule->name;
    EXPECT_NE(rule->wrong, rule->right) << rule->name;
  }
}

}  // namespace
}  // namespace yubifu::cli
