// Marks, slurs, slides and grace notes as they stand in the file.
#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_score.h"

namespace yubifu::musicxml {
namespace {

using model::Mark;
using support::compact;
using support::count_of;
using support::fingered_score;
using testing::HasSubstr;

// Section 4 of the design, "Marks": each mark and the one element it becomes.
TEST(Marks, EachHasOneElement) {
  const std::vector<std::pair<Mark, const char*>> rows{
      {Mark::fermata, "<fermata/>"},
      {Mark::breath, "<articulations><breath-mark>comma</breath-mark></articulations>"},
      {Mark::optional_breath, "<articulations><breath-mark>tick</breath-mark></articulations>"},
      {Mark::uchi, "<technical><other-technical>打</other-technical></technical>"},
      {Mark::age, "<technical><other-technical>上</other-technical></technical>"},
      {Mark::suri, "<slide type=\"start\" number=\"1\"/>"},
      {Mark::yuri, "<ornaments><other-ornament>ユリ</other-ornament></ornaments>"},
      {Mark::trill, "<ornaments><trill-mark/></ornaments>"},
      {Mark::accent, "<articulations><accent/></articulations>"},
      {Mark::staccato, "<articulations><staccato/></articulations>"},
      {Mark::tenuto, "<articulations><tenuto/></articulations>"},
  };
  for (const auto& [mark, element] : rows) {
    model::Score score = fingered_score("三 四 五 六");
    score.notes[0].marks = {mark};
    EXPECT_THAT(compact(score), HasSubstr("<type>quarter</type><notations>" + std::string(element) +
                                          "</notations><lyric"));
  }
}

TEST(Marks, AreTheirElements) {
  model::Score score = fingered_score("三 四 五 六");
  score.notes[0].marks = {Mark::breath, Mark::uchi, Mark::age, Mark::yuri, Mark::trill};
  score.notes[1].marks = {Mark::fermata, Mark::optional_breath, Mark::accent, Mark::staccato,
                          Mark::tenuto};
  EXPECT_THAT(compact(score),
              HasSubstr("<ornaments><other-ornament>ユリ</other-ornament><trill-mark/></ornaments>"
                        "<technical><other-technical>打</other-technical>"
                        "<other-technical>上</other-technical></technical>"
                        "<articulations><breath-mark>comma</breath-mark></articulations>"));
  EXPECT_THAT(compact(score),
              HasSubstr("<articulations><breath-mark>tick</breath-mark><accent/><staccato/>"
                        "<tenuto/></articulations><fermata/>"));
}

TEST(Marks, OfTheEndStandOnTheLastNoteOfATie) {
  model::Score score = support::staff_score({2, 4}, "1 2 1");
  score.notes[1].marks = {Mark::fermata, Mark::accent};
  EXPECT_THAT(compact(score), HasSubstr("<tied type=\"start\"/><articulations><accent/>"));
  EXPECT_THAT(compact(score), HasSubstr("<tied type=\"stop\"/><fermata/>"));
}

TEST(Marks, OfRestsStandOnTheRest) {
  model::Score score = support::staff_score({4, 4}, "2 r2");
  score.rests.push_back({0, 2, {Mark::fermata, Mark::breath}, {}});
  EXPECT_THAT(compact(score),
              HasSubstr("<type>half</type><notations><articulations><breath-mark>comma"
                        "</breath-mark></articulations><fermata/></notations></note></measure>"));
}

TEST(Slurs, SpanAChainOfNotes) {
  model::Score score = fingered_score("三 四 五 六");
  score.notes[0].slur_to_next = true;
  score.notes[1].slur_to_next = true;
  const std::string text = compact(score);
  EXPECT_EQ(count_of(text, "<slur type=\"start\" number=\"1\"/>"), 1u);
  EXPECT_EQ(count_of(text, "<slur type=\"stop\" number=\"1\"/>"), 1u);
  EXPECT_GT(text.find("type=\"stop\""), text.find("<step>G</step>"));
}

TEST(Slides, GoFromNoteToNote) {
  model::Score score = fingered_score("三 四 五 六");
  score.notes[0].marks = {Mark::suri};
  score.notes[1].marks = {Mark::suri};
  EXPECT_THAT(compact(score),
              HasSubstr("<slide type=\"stop\" number=\"1\"/><slide type=\"start\" number=\"2\"/>"));
}

TEST(GraceNotes, AfterTheNoteStealItsTime) {
  model::Score score = fingered_score("三 四 五 六");
  score.notes[0].grace_after = {support::tone_of("六")};
  score.notes[1].grace_before = {support::tone_of("六"), support::tone_of("七")};
  const std::string text = compact(score);
  // An eighth of the quarter.
  EXPECT_THAT(text, HasSubstr("<grace steal-time-previous=\"12.5\"/>"));
  EXPECT_THAT(text, HasSubstr("<type>16th</type><beam number=\"1\">begin</beam>"
                              "<beam number=\"2\">begin</beam>"));
}

// Common practice: the slash stands on a short grace note alone, groups have beams instead.
TEST(GraceNotes, InGroupsHaveNoSlash) {
  model::Score score = fingered_score("三 四 五 六");
  score.notes[1].grace_before = {support::tone_of("六"), support::tone_of("七")};
  const std::string text = compact(score);
  EXPECT_EQ(count_of(text, "<grace/>"), 2u);
  EXPECT_EQ(count_of(text, "slash"), 0u);
}

TEST(GraceNotes, TakeAtMostHalfTheNote) {
  model::Score score = support::staff_score({1, 4}, "1/8 7/8");
  score.notes[0].grace_after = {support::tone_of("六"), support::tone_of("七")};
  EXPECT_THAT(compact(score), HasSubstr("<grace steal-time-previous=\"25\"/>"));
}

}  // namespace
}  // namespace yubifu::musicxml
