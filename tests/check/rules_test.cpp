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

// An optional breath is one that a player can take.
TEST(Rules, AnOptionalBreathEndsALongBreath) {
  std::string text(rule::long_breath.right);
  text.replace(text.find("{breath}"), 8, "{breath?}");
  EXPECT_THAT(tests::reported(text, base::Severity::note), IsEmpty());
}

// Several notes that are slurred are sung to one syllable, as staves are printed.
TEST(Rules, SlurredNotesAreNoSongGap) {
  const auto gaps = [](const std::string& music) {
    const auto resolved = tests::resolved_text("flute: 6\n\n" + music + " |=\n> ka / / ze\n");
    std::vector<std::string> found;
    for (const auto& diagnostic : check_score(resolved, fingering::Origin::staff)) {
      if (diagnostic.rule == &rule::song_gap) found.push_back(diagnostic.message);
    }
    return found;
  };
  EXPECT_THAT(gaps("五 六 七 六"), ElementsAre("verse 1 leaves 2 notes without text"));
  EXPECT_THAT(gaps("五~ 六 七 六"), ElementsAre("verse 1 leaves a note without text"));
  EXPECT_THAT(gaps("五~ 六~ 七 六"), IsEmpty());
}

}  // namespace
}  // namespace yubifu::check
