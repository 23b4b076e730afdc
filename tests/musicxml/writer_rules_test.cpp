// What the writer reports, and that it takes any score without falling over.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/source_text.h"
#include "musicxml/rules.h"
#include "musicxml/staff_score.h"
#include "musicxml/write/score_layout.h"
#include "support/score_generator.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;
using support::staff_score;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<std::string> rules_of(const base::Outcome<std::string>& outcome) {
  std::vector<std::string> names;
  for (const base::Diagnostic& diagnostic : outcome.diagnostics) {
    names.push_back(std::string(name(diagnostic.severity)) + " " +
                    std::string(diagnostic.rule->name));
  }
  return names;
}

std::vector<std::string> reported(const model::Score& score) {
  return rules_of(write_musicxml(score, {}));
}

TEST(WriterRules, ASoundScoreGivesNone) {
  EXPECT_THAT(reported(staff_score({4, 4}, "1 1 2")), IsEmpty());
}

TEST(WriterRules, NoBars) {
  model::Score score = staff_score({4, 4}, "r4");
  EXPECT_THAT(reported(score), IsEmpty());
  score.measures.clear();
  EXPECT_THAT(reported(score), ElementsAre("error no-bars"));
}

TEST(WriterRules, NoFlute) {
  model::Score score = staff_score({4, 4}, "4");
  score.flutes.clear();
  EXPECT_THAT(reported(score), ElementsAre("error no-flute-in-use"));
}

TEST(WriterRules, NoPitch) {
  model::Score score = staff_score({4, 4}, "4");
  score.notes[0].grace_before = {model::Tone{}};
  const auto outcome = write_musicxml(score, {});
  EXPECT_THAT(rules_of(outcome), ElementsAre("error no-pitch"));
  EXPECT_FALSE(outcome.value);
  EXPECT_THAT(outcome.diagnostics[0].measures, ElementsAre("1"));
}

TEST(WriterRules, OutsideTheStaff) {
  model::Score score = staff_score({4, 4}, "4");
  score.notes[0].tone.pitch = model::Pitch{23, 0};
  EXPECT_THAT(reported(score), ElementsAre("error outside-staff"));
  score.notes[0].tone.pitch = model::Pitch{24, 0};
  EXPECT_THAT(reported(score), IsEmpty());
}

TEST(WriterRules, RhythmTooFine) {
  model::Score score = staff_score({4, 4}, "4 4");
  score.notes[1].onset = Rational(1, 10007);
  score.notes[1].duration = 1;
  const auto outcome = write_musicxml(score, {});
  EXPECT_THAT(rules_of(outcome), ElementsAre("error rhythm-too-fine"));
  EXPECT_THAT(outcome.diagnostics[0].measures, ElementsAre("2"));
  score.notes[1].onset = Rational(1, 9973);
  EXPECT_THAT(reported(score), IsEmpty());
}

// A bar of 4/4 whose first beat is cut into equal parts.
model::Score with_parts(const std::vector<int>& parts) {
  std::string lengths;
  for (const int part : parts) {
    for (int i = 0; i < part; ++i) lengths += "1/" + std::to_string(part) + " ";
    lengths += "3 ";
  }
  return staff_score({4, 4}, lengths);
}

TEST(WriterRules, ManyDivisions) {
  EXPECT_THAT(reported(with_parts({7, 11})), IsEmpty());
  const auto outcome = write_musicxml(with_parts({7, 11, 13, 17}), {});
  EXPECT_THAT(rules_of(outcome), ElementsAre("warning many-divisions"));
  EXPECT_THAT(outcome.diagnostics[0].message, HasSubstr("17017"));
  EXPECT_THAT(outcome.diagnostics[0].measures, ElementsAre("4"));
  EXPECT_TRUE(outcome.value);
}

TEST(WriterRules, TooManyDivisions) {
  const auto outcome = write_musicxml(with_parts({23, 29, 31, 37, 41, 43}), {});
  EXPECT_THAT(rules_of(outcome), ElementsAre("error too-many-divisions"));
  // 23 * 29 * 31 * 37 * 41 are 31,367,009; times 43 they are more than 10^9.
  EXPECT_THAT(outcome.diagnostics[0].measures, ElementsAre("6"));
  EXPECT_FALSE(outcome.value);
  EXPECT_THAT(reported(with_parts({23, 29})), IsEmpty());
}

TEST(WriterRules, CommentsLeftOut) {
  model::Score score = staff_score({4, 4}, "4");
  score.header.comments = {"one"};
  score.measures[0].comments = {{"two", true}, {"three", false}};
  const auto outcome = write_musicxml(score, {});
  EXPECT_THAT(rules_of(outcome), ElementsAre("note comments-left-out"));
  EXPECT_THAT(outcome.diagnostics[0].message, HasSubstr("3 comments"));
  score.header.comments.clear();
  score.measures[0].comments.clear();
  EXPECT_THAT(reported(score), IsEmpty());
}

TEST(WriterRules, CharactersReplaced) {
  model::Score score = staff_score({4, 4}, "4");
  score.header.title = "bell\a and \xEF\xBF\xBF, tab\t";
  const auto outcome = write_musicxml(score, {});
  EXPECT_THAT(rules_of(outcome), ElementsAre("warning characters-replaced"));
  EXPECT_THAT(*outcome.value, HasSubstr("<work-title>bell\uFFFD and \uFFFD, tab\t</work-title>"));
}

TEST(Writer, RefusesUnresolvedScoresByRule) {
  for (std::uint64_t seed = 1; seed <= 50; ++seed) {
    const auto outcome = write_musicxml(support::random_score(seed), {});
    EXPECT_FALSE(outcome.value);
    EXPECT_TRUE(base::has_errors(outcome.diagnostics));
  }
}

TEST(ScoreLayout, SharesTheLayoutOfEqualBars) {
  base::Diagnostics diagnostics;
  const ScoreLayout layout =
      lay_out_score(staff_score({4, 4}, "1 1 2 1 1 2 1 3 1 r1 2 1 1 2"), diagnostics);
  EXPECT_THAT(layout.layout_of_bar, ElementsAre(0u, 0u, 1u, 2u, 0u));
}

}  // namespace
}  // namespace yubifu::musicxml
