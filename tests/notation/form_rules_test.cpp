// The rules about form are model's, their examples are fingering text: each wrong example breaks
// its rule when it is played, and no other; the right one breaks none.
#include <set>
#include <string>
#include <string_view>

#include <gtest/gtest.h>

#include "model/play_out.h"
#include "model/rules.h"
#include "notation/reading.h"

namespace yubifu::notation {
namespace {

using Names = std::set<std::string_view>;

Names broken_when_played(std::string_view text) {
  const Reading reading = read(std::string(text));
  EXPECT_TRUE(reading.outcome.ok()) << text;
  if (!reading.outcome.ok()) return {"not read"};
  Names names;
  for (const base::Diagnostic& finding : model::play_out(reading.score()).diagnostics) {
    names.insert(finding.rule->name);
  }
  return names;
}

TEST(FormRules, AreBrokenByTheirWrongExamplesOnly) {
  for (const base::Rule* rule : model::rules()) {
    // Longer than an example can be; the limits are tested with the played order.
    if (rule == &model::rule::played_too_long) continue;
    EXPECT_EQ(broken_when_played(rule->wrong), Names{rule->name}) << rule->wrong;
    EXPECT_EQ(broken_when_played(rule->right), Names{}) << rule->right;
  }
}

}  // namespace
}  // namespace yubifu::notation
