// Inputs at a limit and one over it: over it one error names the limit, and nothing is eaten up.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/read/lexer.h"
#include "notation/read/parser.h"
#include "notation/read/reports.h"
#include "notation/read/steps.h"
#include "notation/reading.h"
#include "support/text.h"

namespace yubifu::notation {
namespace {

using support::rule_names;
using testing::Contains;
using testing::Each;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

std::string repeated(std::size_t times, const std::string& text) {
  std::string all;
  all.reserve(times * text.size());
  for (std::size_t i = 0; i < times; ++i) all += text;
  return all;
}

TEST(Limit, OfTheBytesOfABrace) {
  const std::string front = "{text \"";
  const std::string back = "\"}";
  const std::string fits(kLongestToken - front.size() - back.size(), 'a');
  const Reading at_limit = read("五 " + front + fits + back + " 六 |\n");
  EXPECT_THAT(at_limit.findings(), IsEmpty());
  const Reading over = read("五 " + front + fits + "a" + back + " 六 |\n");
  EXPECT_THAT(over.findings(), ElementsAre("1:3 error size-limit"));
  EXPECT_THAT(over.first_message(), HasSubstr("the limit is 4096"));
}

TEST(Limit, OfTheBytesOfAWord) {
  EXPECT_THAT(rule_names(read(std::string(kLongestToken, 'z') + " |\n").outcome.diagnostics),
              Not(Contains("size-limit")));
  EXPECT_THAT(read("五 " + std::string(kLongestToken + 1, 'z') + " 六 |\n").findings(),
              ElementsAre("1:3 error size-limit"));
}

TEST(Limit, OfGroupsInsideEachOther) {
  const auto nested = [](std::size_t depth) {
    return "meter: free\n" + repeated(depth, "(1 ") + "2" + repeated(depth, ")") + " |\n";
  };
  // So fine a division cannot be held, but it can be parsed.
  const Reading at_limit = read(nested(kDeepestNesting));
  EXPECT_THAT(at_limit.findings(), ElementsAre("2:1 error bar-overflow"));
  const Reading over = read(nested(kDeepestNesting + 1));
  EXPECT_THAT(over.findings(),
              ElementsAre("2:1 error bar-overflow", "2:193 error nesting-too-deep"));
  EXPECT_THAT(over.outcome.diagnostics.back().message, HasSubstr("more than 64 groups"));
  EXPECT_THAT(rule_names(read(nested(100'000)).outcome.diagnostics), Contains("nesting-too-deep"));
}

TEST(Limit, OfFindings) {
  const Reading at_limit = read(repeated(kMostFindings, "@ "));
  EXPECT_EQ(at_limit.outcome.diagnostics.size(), kMostFindings);
  EXPECT_THAT(rule_names(at_limit.outcome.diagnostics), Each("unknown-sign"));
  const Reading over = read(repeated(kMostFindings + 500, "@ "));
  ASSERT_EQ(over.outcome.diagnostics.size(), kMostFindings + 1);
  EXPECT_EQ(over.outcome.diagnostics.back().rule->name, "too-many-findings");
  EXPECT_THAT(over.outcome.diagnostics.back().message, HasSubstr("1000"));
}

TEST(Limit, OfBars) {
  // Parsed only: a score of so many bars would take its time.
  const auto parsed = [](std::size_t bars) {
    const base::SourceText source("tune.yubifu", "meter: free\n" + repeated(bars, "1|"));
    Reports reports;
    const Tree tree = parse(source, lex(source, reports), reports);
    return std::pair(tree.bars.size(), reports.take());
  };
  const auto [bars, untold] = parsed(kMostBars);
  EXPECT_THAT(rule_names(untold), IsEmpty());
  EXPECT_EQ(bars, kMostBars);
  const auto over = parsed(kMostBars + 1).second;
  ASSERT_THAT(rule_names(over), ElementsAre("size-limit"));
  EXPECT_THAT(over[0].message, HasSubstr("500000 bars"));
}

TEST(Limit, OfNotesAlsoOfBarsThatRepeatTheOneBefore) {
  // A text of 44 KB that would be 20 million notes.
  const Reading over =
      read("meter: free\n" + repeated(2'000, "1 ") + repeated(10'000, "| %") + " |\n");
  EXPECT_THAT(rule_names(over.outcome.diagnostics), ElementsAre("size-limit"));
  EXPECT_THAT(over.first_message(), HasSubstr("2000000 notes"));
}

TEST(Limit, OfNotesCountsMarkedRests) {
  const Reading over =
      read("meter: free\n1 " + repeated(2'000, "・{breath} ") + repeated(2'000, "| %") + " |\n");
  EXPECT_THAT(rule_names(over.outcome.diagnostics), ElementsAre("size-limit"));
}

TEST(Limit, OfTimeNamesItsBar) {
  // The last group divides by eleven primes; together with the bar before it nothing is wrong.
  std::string groups = "1 2";
  for (const int prime : {2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53}) {
    groups = "(" + groups + repeated(static_cast<std::size_t>(prime - 2), " 1") + ")";
    groups += " 1";
  }
  const Reading reading = read("meter: free\n1 2 3 4 |\n" + groups + " |\n1 2 |\n");
  EXPECT_THAT(reading.findings(), ElementsAre("3:1 error bar-overflow"));
  EXPECT_THAT(reading.first_message(), HasSubstr("bar 2"));
  EXPECT_THAT(reading.outcome.diagnostics[0].measures, ElementsAre("2"));
}

TEST(Limit, OfLinesWithBracesThatDoNotClose) {
  // Each would look for its end again: the line is given up.
  const Reading reading = read("五 " + repeated(50'000, "{rit ") + "\n六 |\n");
  EXPECT_LE(reading.outcome.diagnostics.size(), kMostFindings + 1);
  EXPECT_EQ(reading.outcome.diagnostics[0].rule->name, "unclosed-brace");
}

}  // namespace
}  // namespace yubifu::notation
