#include <optional>
#include <string>

#include <gmock/gmock.h>

#include "check/findings.h"
#include "check/reading.h"
#include "check/rules.h"

namespace yubifu::check {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

using Parsed = std::optional<Allowance>;

const Parsed kNoAllowance;

// Without a reason.
Parsed half(const std::string& rule) {
  return Allowance{rule, {}};
}

TEST(ParseAllowance, ReadsRuleAndReason) {
  EXPECT_EQ(parse_allowance("allow fast-leap: it is the joke of the tune"),
            Parsed(Allowance{"fast-leap", "it is the joke of the tune"}));
  EXPECT_EQ(parse_allowance("  allow  layout :typed by hand"),
            Parsed(Allowance{"layout", "typed by hand"}));
}

TEST(ParseAllowance, NoticesWhatLacks) {
  EXPECT_EQ(parse_allowance("allow fast-leap"), half("fast-leap"));
  EXPECT_EQ(parse_allowance("allow fast-leap:  "), half("fast-leap"));
  EXPECT_EQ(parse_allowance("allow layout:"), half("layout"));
}

TEST(ParseAllowance, LeavesOtherCommentsAlone) {
  EXPECT_EQ(parse_allowance("allow time to breathe here"), kNoAllowance);
  EXPECT_EQ(parse_allowance("we allow fast-leap: often"), kNoAllowance);
  EXPECT_EQ(parse_allowance("allowance"), kNoAllowance);
  EXPECT_EQ(parse_allowance(""), kNoAllowance);
}

constexpr std::string_view kFast = "flute: 6\ntempo: 160\n\n";

std::vector<std::string> reported(std::string_view music) {
  return tests::reported(std::string(kFast) + std::string(music), base::Severity::note);
}

TEST(Allowances, SilenceARuleForTheirMeasureAlone) {
  EXPECT_THAT(reported("(一 5) - 一 - | (一 5) - 一 - |=\n"),
              ElementsAre("fast-leap", "fast-leap"));
  EXPECT_THAT(reported("(一 5) - 一 - |\n(一 5) - 一 - |= # allow fast-leap: meant\n"),
              ElementsAre("fast-leap"));
  EXPECT_THAT(reported("(一 5) - 一 - | # allow fast-leap: meant\n"
                       "(一 5) - 一 - |= # allow fast-leap: meant\n"),
              IsEmpty());
}

TEST(Allowances, InTheHeaderAreForTheWholeScore) {
  EXPECT_THAT(tests::reported("# allow fast-leap: the dance is like that\nflute: 6\ntempo: 160\n\n"
                              "(一 5) - 一 - | (一 5) - 一 - |=\n",
                              base::Severity::note),
              IsEmpty());
}

TEST(Allowances, SilenceFaultsOfTheText) {
  EXPECT_THAT(reported("五 六 七 六 | 五 六 七 | 五 六 七 六 |=\n"), ElementsAre("bar-length"));
  EXPECT_THAT(reported("五 六 七 六 | 五 六 七 | # allow bar-length: as in the manuscript\n"
                       "五 六 七 六 |=\n"),
              IsEmpty());
}

TEST(Allowances, TakeTheirMeasureOutOfAFindingAboutSeveral) {
  const auto resolved =
      tests::resolved_text("flute: 6\n\n7 8 7 - | # allow third-register: yes\n7 8 7 - |=\n");
  const base::Rule* rule = nullptr;
  base::Diagnostics found;
  for (const base::Diagnostic& diagnostic : check_score(resolved, fingering::Origin::fingers)) {
    if (diagnostic.rule->name == "third-register") found.push_back(diagnostic);
  }
  ASSERT_EQ(found.size(), 1U);
  rule = found.front().rule;
  EXPECT_THAT(found.front().measures, ElementsAre("1", "2"));
  const auto left = without_allowed(found, resolved.score, {rule});
  ASSERT_EQ(left.size(), 1U);
  EXPECT_THAT(left.front().measures, ElementsAre("2"));
  EXPECT_EQ(left.front().where, resolved.score.measures[1].source);
}

TEST(Allowances, ThatNothingNeedsAreTold) {
  EXPECT_THAT(reported("五 六 七 - |= # allow fast-leap: meant\n"), ElementsAre("allow-idle"));
}

}  // namespace
}  // namespace yubifu::check
