// Fingering and song text as they stand in the file.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_score.h"

namespace yubifu::musicxml {
namespace {

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
  EXPECT_EQ(text_of("5 3"), "三＿｜＿｜");   // over a bar line
  EXPECT_EQ(text_of("3/2 5/2"), "三");       // no whole beat more
  EXPECT_EQ(text_of("r1/2 3/2 2"), "三／");  // from the first beat after its start
  EXPECT_EQ(text_of("r1/2 1/2 3"), "三");
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
