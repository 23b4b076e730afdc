// What is found at many places is told once, with how often and in which bars.
#include "base/findings.h"

#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace yubifu::base {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

TEST(BarList, NamesOneBar) {
  EXPECT_EQ(bar_list({"7"}), "bar 7");
}

TEST(BarList, JoinsThreeThatCountUpButNotTwo) {
  EXPECT_EQ(bar_list({"3", "4", "9", "10", "11"}), "bars 3, 4, 9-11");
}

TEST(BarList, TakesNumbersThatAreNoNumbers) {
  EXPECT_EQ(bar_list({"0", "X1", "2", "2"}), "bars 0, X1, 2, 2");
}

TEST(BarList, EndsALongList) {
  std::vector<std::string> odd;
  for (int i = 1; i <= 49; i += 2) odd.push_back(std::to_string(i));
  EXPECT_EQ(bar_list(odd),
            "bars 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25, 27, 29, 31, 33, 35, 37, 39 and "
            "5 more");
}

constexpr Rule kLoud{"loud", Severity::warning, "", "", ""};
constexpr Rule kLost{"lost", Severity::error, "", "", ""};

// Bars are printed from 1 on.
std::string counted(Place bar) {
  return std::to_string(bar + 1);
}

std::vector<std::string> told(const Findings& findings, const Sentence& sentence = bars_last) {
  std::vector<std::string> list;
  for (const Diagnostic& one : findings.diagnostics(counted, sentence)) list.push_back(one.message);
  return list;
}

TEST(Findings, TellsARuleAndMessageOnceWithItsBarsInOrder) {
  Findings findings;
  findings.add(report(kLoud, SourceRange{40, 41}, "a note is loud", "play softly"), 4);
  findings.add(report(kLost, {}, "a note is loud"), 8);
  findings.add(report(kLoud, SourceRange{20, 21}, "a note is loud"), 2);
  findings.add(report(kLoud, SourceRange{20, 21}, "a rest is loud"), 2);
  const Diagnostics diagnostics = findings.diagnostics(counted);
  ASSERT_EQ(diagnostics.size(), 3u);
  EXPECT_EQ(diagnostics[0].message, "a note is loud: bars 3, 5");
  EXPECT_EQ(diagnostics[0].hint, "play softly");
  EXPECT_EQ(diagnostics[0].severity, Severity::warning);
  EXPECT_EQ(diagnostics[0].where->begin, 40u);
  EXPECT_THAT(diagnostics[0].measures, ElementsAre("3", "5"));
  EXPECT_EQ(diagnostics[1].message, "a note is loud: bar 9");
  EXPECT_EQ(diagnostics[1].severity, Severity::error);
  EXPECT_EQ(diagnostics[2].message, "a rest is loud: bar 3");
}

// A bar that a repeat sign parts is two measures of one number.
TEST(Findings, NamesABarOnceThoughItHasTwoParts) {
  Findings findings;
  for (const Place measure : {0U, 1U, 2U}) findings.add(report(kLoud, {}, "loud"), measure);
  const auto parted = [](Place measure) { return std::string(measure < 2 ? "7" : "8"); };
  EXPECT_EQ(findings.diagnostics(parted).front().message, "loud: bars 7, 8");
}

TEST(Findings, CountsCasesAlsoThoseOfOneBarAndOfNone) {
  Findings findings;
  for (const Place place : {Place{3}, Place{3}, kNoBar}) {
    findings.add(report(kLoud, {}, "loud"), place);
  }
  const auto count = [](const Finding& finding) {
    return std::to_string(finding.count) + " in " + bar_list(finding.told.measures);
  };
  EXPECT_THAT(told(findings, count), ElementsAre("3 in bar 4"));
  EXPECT_THAT(told(findings, bars_unsaid), ElementsAre("loud"));
}

TEST(Findings, OfNoBarIsTheMessageAlone) {
  Findings findings;
  findings.add(report(kLoud, {}, "the title is loud"), kNoBar);
  EXPECT_THAT(told(findings), ElementsAre("the title is loud"));
  EXPECT_THAT(findings.diagnostics(counted).front().measures, IsEmpty());
}

TEST(Findings, WithoutACaseAreNotTold) {
  Findings findings;
  findings.of(kLoud).told.message = "nobody heard it";
  EXPECT_THAT(told(findings), IsEmpty());
}

TEST(Findings, NameTenDetailsEachOnce) {
  Findings findings;
  Finding& finding = findings.of(kLoud);
  finding.told.message = "loud";
  finding.add(0);
  for (const char* detail : {"a", "b", "", "a", "c", "d", "e", "f", "g", "h", "i", "j", "k"}) {
    finding.add_detail(detail);
  }
  EXPECT_THAT(told(findings), ElementsAre("loud (a, b, c, d, e, f, g, h, i, j): bar 1"));
}

TEST(Findings, JoinListsInTheOrderInWhichKindsFirstCame) {
  Findings first;
  first.add(report(kLost, {}, "lost"), 5);
  first.of(kLost, "lost").add_detail("x");
  Findings second;
  second.add(report(kLoud, {}, "loud"), 0);
  second.add(report(kLost, {}, "lost"), 1);
  second.add(report(kLost, {}, "lost"), 2);
  second.of(kLost, "lost").add_detail("y");
  first.append(std::move(second));
  EXPECT_THAT(told(first), ElementsAre("lost (x, y): bars 2, 3, 6", "loud: bar 1"));
  EXPECT_EQ(first.of(kLost, "lost").count, 3u);
}

}  // namespace
}  // namespace yubifu::base
