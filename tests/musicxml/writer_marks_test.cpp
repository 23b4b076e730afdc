// Marks, slurs, slides and grace notes, fingering and song text as they stand in the file.
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

using support::compact;
using support::count_of;
using support::fingered_score;
using testing::HasSubstr;
using testing::Not;

MusicXmlWriteOptions with(Annotation annotation) {
  MusicXmlWriteOptions options;
  options.annotation = annotation;
  return options;
}

TEST(Annotations, AreLyricsUnderTheStaff) {
  const std::string text = compact(fingered_score("三メ↓20 一 一 一"));
  EXPECT_THAT(text, HasSubstr("<lyric number=\"1\" name=\"fingering\" placement=\"below\">"
                              "<syllabic>single</syllabic><text>三メ↓20</text></lyric>"));
  EXPECT_THAT(text, HasSubstr("name=\"yubifu.fingering\">lyric<"));
}

TEST(Annotations, AreLyricsAboveTheStaff) {
  EXPECT_THAT(compact(fingered_score("三 一 一 一"), with(Annotation::lyric_above)),
              HasSubstr("name=\"fingering\" placement=\"above\""));
}

TEST(Annotations, AreTechnicalFingerings) {
  const std::string text = compact(fingered_score("三 一 一 一"), with(Annotation::technical));
  EXPECT_THAT(text, HasSubstr("<technical><fingering>三</fingering></technical>"));
  EXPECT_THAT(text, Not(HasSubstr("<lyric")));
}

TEST(Annotations, AreWordsBeforeTheirNote) {
  EXPECT_THAT(compact(fingered_score("三 一 一 一"), with(Annotation::words)),
              HasSubstr("<direction placement=\"below\"><direction-type><words>三</words>"
                        "</direction-type></direction><note>"));
}

TEST(Annotations, CanBeLeftOut) {
  const std::string text = compact(fingered_score("三 一 一 一"), with(Annotation::none));
  EXPECT_THAT(text, Not(HasSubstr("三")));
  EXPECT_THAT(text, HasSubstr("name=\"yubifu.fingering\">none<"));
}

TEST(Annotations, StandNeitherOnRestsNorOnLaterNotesOfATie) {
  const std::string text = compact(support::staff_score({2, 4}, "1 2 r1"));
  EXPECT_EQ(count_of(text, "name=\"fingering\""), 2u);
  EXPECT_EQ(count_of(text, "<note>"), 4u);
}

TEST(Annotations, OfAGapTellItsSoundAndBend) {
  model::Score score = fingered_score("三 一 一 一");
  model::Tone gap;
  gap.fingering = model::Fingering{};
  gap.fingering->bend_cents = -20;
  gap.spelling = model::Spelling{model::Step::f, 1, 4};
  gap.pitch = model::Pitch{66, -20};
  score.notes[0].tone = gap;
  EXPECT_THAT(compact(score), HasSubstr("<text>?F#4↓20</text>"));
}

TEST(Annotations, StandOnGraceNotes) {
  model::Score score = fingered_score("三 一 一 一");
  score.notes[0].grace_before = {support::tone_of("六")};
  EXPECT_THAT(
      compact(score),
      HasSubstr("<note><grace slash=\"yes\"/><pitch><step>A</step><octave>4</octave></pitch>"
                "<voice>1</voice><type>eighth</type>"
                "<lyric number=\"1\" name=\"fingering\" placement=\"below\">"));
}

TEST(Annotations, OfAGraceNoteAreTechnicalToo) {
  model::Score score = fingered_score("三 一 一 一");
  score.notes[0].grace_before = {support::tone_of("六")};
  EXPECT_THAT(compact(score, with(Annotation::technical)),
              HasSubstr("<type>eighth</type><notations><technical><fingering>六</fingering>"
                        "</technical></notations></note>"));
  EXPECT_THAT(compact(score, with(Annotation::words)),
              HasSubstr("<words>六</words></direction-type></direction><note><grace"));
}

TEST(Strokes, FollowTheNumberOfAHeldNote) {
  MusicXmlWriteOptions options;
  options.strokes = true;
  const std::string text = compact(support::staff_score({4, 4}, "2 1 1 3 1"), options);
  EXPECT_THAT(text, HasSubstr("<text>三／</text>"));
  EXPECT_THAT(text, HasSubstr("<text>三＿｜</text>"));
  EXPECT_EQ(count_of(text, "<text>三</text>"), 3u);
}

// Section 3.5 of the design: one held beat is a diagonal, of more the strokes take turns.
TEST(Strokes, TakeTurnsAndStandOnce) {
  MusicXmlWriteOptions options;
  options.strokes = true;
  const auto text_of = [&](const char* lengths) {
    const std::string text = compact(support::staff_score({4, 4}, lengths), options);
    const std::size_t begin = text.find("<text>") + 6;
    return text.substr(begin, text.find('<', begin) - begin);
  };
  EXPECT_EQ(text_of("1 3"), "三");
  EXPECT_EQ(text_of("2 2"), "三／");
  EXPECT_EQ(text_of("3 1"), "三＿｜");
  EXPECT_EQ(text_of("4"), "三＿｜＿");
  EXPECT_EQ(text_of("5 3"), "三＿｜＿｜");    // over a bar line
  EXPECT_EQ(text_of("3/2 5/2"), "三／′");     // half a beat more
  EXPECT_EQ(text_of("r1/2 3/2 2"), "三′／");  // from the first beat after its start
  EXPECT_EQ(text_of("r1/2 1/2 3"), "三′");
}

TEST(Strokes, StandInEveryKindOfAnnotation) {
  for (const Annotation kind :
       {Annotation::lyric, Annotation::lyric_above, Annotation::technical, Annotation::words}) {
    MusicXmlWriteOptions options = with(kind);
    options.strokes = true;
    EXPECT_EQ(count_of(compact(support::staff_score({4, 4}, "2 2"), options), ">三／<"), 2u);
  }
}

// A dotted half of 6/8 is six eighths, five of them held.
TEST(Strokes, CountTheUnitsOfCompoundMeters) {
  MusicXmlWriteOptions options;
  options.strokes = true;
  EXPECT_EQ(count_of(compact(support::staff_score({6, 8}, "3"), options), ">三＿｜＿｜＿<"), 1u);
}

TEST(Holes, AreOneElementAHoleFromTheMouthEnd) {
  model::Score score = fingered_score("一 三 一 一");
  score.notes[0].tone.holes = model::parse_hole_pattern("○●●●●●◐");
  score.notes[1].asked_holes = model::parse_hole_pattern("◎○○○○○○");
  MusicXmlWriteOptions options;
  options.holes = true;
  const auto hole = [](std::string_view closed) {
    return "<hole><hole-closed>" + std::string(closed) + "</hole-closed></hole>";
  };
  const std::string yes = hole("yes");
  const std::string text = compact(score, options);
  EXPECT_THAT(text, HasSubstr("<technical>" + hole("no") + yes + yes + yes + yes + yes +
                              hole("half") + "</technical>"));
  EXPECT_THAT(text, HasSubstr("<technical>" + yes + hole("no")));
  EXPECT_THAT(compact(score), Not(HasSubstr("<hole>")));
}

TEST(Holes, AskedForAreTold) {
  model::Score score = fingered_score("一 三 一 一");
  score.notes[1].asked_holes = model::parse_hole_pattern("◎○○○○○○");
  EXPECT_THAT(compact(score), HasSubstr("<other-direction print-object=\"no\">"
                                        "yubifu:holes ◎○○○○○○</other-direction>"));
}

TEST(SongText, StandsInTheVersesAfterTheFingering) {
  model::Score score = fingered_score("三 一 一 一");
  score.verses = {"1", "shoga"};
  score.notes[0].syllables = {{"1", "a‿b", model::SyllableKind::begin, false},
                              {"shoga", "と", model::SyllableKind::single, false}};
  score.notes[1].syllables = {{"1", "c", model::SyllableKind::end, false},
                              {"shoga", "", model::SyllableKind::single, true}};
  const std::string text = compact(score);
  EXPECT_THAT(text, HasSubstr("<lyric number=\"2\" name=\"1\"><syllabic>begin</syllabic>"
                              "<text>a</text><elision>‿</elision><text>b</text></lyric>"
                              "<lyric number=\"3\" name=\"shoga\"><syllabic>single</syllabic>"
                              "<text>と</text><extend type=\"start\"/></lyric>"));
  EXPECT_THAT(text,
              HasSubstr("<lyric number=\"3\" name=\"shoga\"><extend type=\"stop\"/></lyric>"));
  EXPECT_THAT(compact(score, with(Annotation::words)),
              HasSubstr("<lyric number=\"1\" name=\"1\">"));
}

}  // namespace
}  // namespace yubifu::musicxml
