// Each rule's wrong example breaks exactly that rule, its right example none. Staff files and
// comparisons break the others; their own tests do what the examples say.
#include "check/rules.h"

#include <algorithm>
#include <string>
#include <vector>

#include <gmock/gmock.h>

#include "check/reading.h"

namespace yubifu::check {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Every rule with an example in fingering text, except one that breaks another as well.
std::vector<const base::Rule*> text_rules() {
  std::vector<const base::Rule*> list;
  for (const auto* rules : {&score_rules(), &allowance_rules()}) {
    for (const base::Rule* rule : *rules) {
      if (rule != &rule::lone_eight && rule->wrong.starts_with("flute:")) list.push_back(rule);
    }
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

}  // namespace
}  // namespace yubifu::check
