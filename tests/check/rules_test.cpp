// Each rule's wrong example breaks exactly that rule, its right example none.
#include "check/rules.h"

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include <gmock/gmock.h>

#include "check/reading.h"

namespace yubifu::check {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Every rule with an example in fingering text, except one that breaks another as well and one that
// is off unless asked for.
std::vector<const base::Rule*> text_rules() {
  std::vector<const base::Rule*> list;
  for (const base::Rule* rule : rules()) {
    const bool apart = rule == &rule::lone_eight || is_off_by_default(*rule);
    if (!apart && rule->wrong.starts_with("flute:")) list.push_back(rule);
  }
  return list;
}

class TextRule : public testing::TestWithParam<const base::Rule*> {};

TEST_P(TextRule, IsBrokenByItsWrongExampleAlone) {
  const base::Rule& rule = *GetParam();
  EXPECT_THAT(tests::reported(rule.wrong, base::Severity::note), ElementsAre(rule.name))
      << rule.wrong;
}

TEST_P(TextRule, IsKeptByItsRightExample) {
  const base::Rule& rule = *GetParam();
  EXPECT_THAT(tests::reported(rule.right, base::Severity::note), IsEmpty()) << rule.right;
}

INSTANTIATE_TEST_SUITE_P(All, TextRule, testing::ValuesIn(text_rules()), [](const auto& test) {
  std::string name(test.param->name);
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

// An 8 is a note of the third register as well.
TEST(Rules, ALoneEightIsLoudToo) {
  EXPECT_THAT(tests::reported(rule::lone_eight.wrong, base::Severity::note),
              ElementsAre("third-register", "lone-eight"));
  EXPECT_THAT(tests::reported(rule::lone_eight.right, base::Severity::note), IsEmpty());
}

// Staff files, files as such and comparisons break the others; their own tests do what the
// examples say.
TEST(Rules, AreListedOnceWithExamples) {
  std::set<std::string_view> names;
  for (const base::Rule* rule : rules()) {
    EXPECT_TRUE(names.insert(rule->name).second) << rule->name;
    EXPECT_TRUE(rule->sentence.ends_with('.')) << rule->name;
    EXPECT_FALSE(rule->wrong.empty()) << rule->name;
    EXPECT_FALSE(rule->right.empty()) << rule->name;
  }
}

}  // namespace
}  // namespace yubifu::check
