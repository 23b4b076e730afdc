// Every rule's wrong example breaks that rule and no other; the right one breaks none.
#include "notation/rules.h"

#include <algorithm>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "model/play_out.h"
#include "model/rules.h"
#include "notation/reading.h"

namespace yubifu::notation {
namespace {

using Names = std::set<std::string_view>;

// Described in words: bytes that are no text (see reader_test), and inputs at a limit, too long for
// an example.
const Names kInWords{"not-utf8",         "other-encoding",    "size-limit",
                     "nesting-too-deep", "too-many-findings", "bar-overflow"};
// Reported by the writer.
const Names kOfWriter{"bar-too-fine",    "unfingered-note", "unwritable-sign", "unwritable-header",
                      "zero-is-taken",   "held-over-flute", "idle-repeat",     "undone-direction",
                      "carried-nothing", "text-on-one-line"};

// The rules broken by a text. Notes count only for the rule that is one.
Names broken_by(std::string_view text, const base::Rule& rule) {
  Names names;
  const Reading reading = read(std::string(text));
  for (const base::Diagnostic& finding : reading.outcome.diagnostics) {
    const bool counts = finding.severity != base::Severity::note || finding.rule == &rule;
    if (counts) names.insert(finding.rule->name);
  }
  return names;
}

std::vector<const base::Rule*> rules_with_texts() {
  std::vector<const base::Rule*> list;
  for (const base::Rule* rule : rules()) {
    if (kInWords.count(rule->name) == 0 && kOfWriter.count(rule->name) == 0) list.push_back(rule);
  }
  return list;
}

class EveryRule : public testing::TestWithParam<const base::Rule*> {};

TEST_P(EveryRule, IsBrokenByItsWrongExampleOnly) {
  const base::Rule& rule = *GetParam();
  EXPECT_EQ(broken_by(rule.wrong, rule), Names{rule.name}) << rule.wrong;
  EXPECT_EQ(broken_by(rule.right, rule), Names{}) << rule.right;
}

INSTANTIATE_TEST_SUITE_P(Notation, EveryRule, testing::ValuesIn(rules_with_texts()),
                         [](const auto& test) {
                           std::string name(test.param->name);
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

TEST(Rules, HaveNamesOfTheirOwn) {
  Names names;
  for (const base::Rule* rule : rules()) {
    EXPECT_TRUE(names.insert(rule->name).second) << rule->name;
    EXPECT_EQ(rule->sentence.back(), '.') << rule->name;
    for (const char c : rule->name) EXPECT_TRUE((c >= 'a' && c <= 'z') || c == '-' || c == '8');
  }
}

// The rules about form are model's, their examples are fingering text: each wrong example breaks
// its rule when it is played.
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
