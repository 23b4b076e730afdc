// Each rule's wrong example breaks exactly that rule, its right example none.
#include "fingering/rules.h"

#include <set>

#include <gmock/gmock.h>

#include "fingering/resolve.h"
#include "notation/read/reader.h"

namespace yubifu::fingering {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Names of what reading and resolving an example report at least as gravely as `least`.
std::vector<std::string_view> reported(std::string_view text, base::Severity least) {
  const base::SourceText source("example.yubifu", std::string(text));
  auto read = notation::read_notation(source);
  base::Diagnostics all = read.diagnostics;
  if (read.value) base::append(all, resolve(*std::move(read.value), {}).diagnostics);
  std::vector<std::string_view> names;
  for (const base::Diagnostic& diagnostic : all) {
    if (diagnostic.severity <= least) names.push_back(diagnostic.rule->name);
  }
  return names;
}

class TextRule : public testing::TestWithParam<const base::Rule*> {};

TEST_P(TextRule, is_broken_by_its_wrong_example_alone) {
  const base::Rule& rule = *GetParam();
  EXPECT_THAT(reported(rule.wrong, rule.severity), ElementsAre(rule.name)) << rule.wrong;
}

TEST_P(TextRule, is_kept_by_its_right_example) {
  const base::Rule& rule = *GetParam();
  EXPECT_THAT(reported(rule.right, rule.severity), IsEmpty()) << rule.right;
}

INSTANTIATE_TEST_SUITE_P(All, TextRule,
                         testing::Values(&rule::no_flute_given, &rule::sign_not_on_flute,
                                         &rule::half_hole_not_on_flute, &rule::bend_too_far,
                                         &rule::out_of_reach, &rule::holes_of_another_flute),
                         [](const auto& test) {
                           std::string name(test.param->name);
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

// Options, staff files and flute files break the others; resolve_test.cpp and adopt_test.cpp do
// what their examples say.
TEST(Rules, are_listed_once_with_examples) {
  std::set<std::string_view> names;
  for (const base::Rule* rule : rules()) {
    EXPECT_TRUE(names.insert(rule->name).second) << rule->name;
    EXPECT_FALSE(rule->sentence.empty()) << rule->name;
    EXPECT_FALSE(rule->wrong.empty()) << rule->name;
    EXPECT_FALSE(rule->right.empty()) << rule->name;
  }
  EXPECT_EQ(names.size(), 14u);
}

}  // namespace
}  // namespace yubifu::fingering
