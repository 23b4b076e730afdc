// Every rule's wrong example breaks that rule and no other; the right one breaks none.
#include "notation/rules.h"

#include <algorithm>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "notation/reading.h"

namespace yubifu::notation {
namespace {

// Described in words: bytes that are no text (see reader_test), and inputs at a limit, too long for
// an example.
const std::set<std::string_view> kInWords{"not-utf8",         "other-encoding",    "size-limit",
                                          "nesting-too-deep", "too-many-findings", "bar-overflow"};
// Reported by the writer.
const std::set<std::string_view> kOfWriter{
    "bar-too-fine",    "unfingered-note", "unwritable-sign", "unwritable-header",
    "zero-is-taken",   "held-over-flute", "idle-repeat",     "undone-direction",
    "carried-nothing", "text-on-one-line"};

// The rules broken by a text. Notes count only for the rule that is one.
std::set<std::string_view> broken_by(std::string_view text, const base::Rule& rule) {
  std::set<std::string_view> names;
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
  EXPECT_EQ(broken_by(rule.wrong, rule), std::set<std::string_view>{rule.name}) << rule.wrong;
  EXPECT_EQ(broken_by(rule.right, rule), std::set<std::string_view>{}) << rule.right;
}

INSTANTIATE_TEST_SUITE_P(Notation, EveryRule, testing::ValuesIn(rules_with_texts()),
                         [](const auto& test) {
                           std::string name(test.param->name);
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

TEST(Rules, HaveNamesOfTheirOwn) {
  std::set<std::string_view> names;
  for (const base::Rule* rule : rules()) {
    EXPECT_TRUE(names.insert(rule->name).second) << rule->name;
    EXPECT_EQ(rule->sentence.back(), '.') << rule->name;
    for (const char c : rule->name) EXPECT_TRUE((c >= 'a' && c <= 'z') || c == '-' || c == '8');
  }
}

}  // namespace
}  // namespace yubifu::notation
