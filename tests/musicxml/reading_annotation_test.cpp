// Fingerings that stand in a staff file.
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

std::string named(std::string_view text) {
  return fmt::format("<lyric name=\"fingering\" number=\"1\"><text>{}</text></lyric>", text);
}

std::string technical(std::string_view text) {
  return fmt::format("<notations><technical><fingering>{}</fingering></technical></notations>",
                     text);
}

std::string words(std::string_view text) {
  return fmt::format(
      "<direction placement=\"below\"><direction-type><words>{}</words></direction-type>"
      "</direction>",
      text);
}

// One bar in a file whose fields name a kind of annotation.
std::string with_field(std::string_view kind, std::string_view content) {
  return fmt::format(
      "<score-partwise><identification><miscellaneous>"
      "<miscellaneous-field name=\"yubifu.version\">1</miscellaneous-field>"
      "<miscellaneous-field name=\"yubifu.fingering\">{}</miscellaneous-field>"
      "</miscellaneous></identification><part id=\"P1\">{}</part></score-partwise>",
      kind, measure("1", attributes(2, "4/4") + std::string(content)));
}

MusicXmlReadOptions reading_as(Annotation annotation) {
  MusicXmlReadOptions options;
  options.read_fingering = annotation;
  return options;
}

TEST(Annotation, IsReadFromLyricsOfItsName) {
  const Reading reading = read(one_bar(note("C5", 2, named("一")) + note("Eb5", 2, named("三メ")) +
                                       note("D5", 2, named("2↓20")) + note("F5", 2)));
  EXPECT_EQ(fingerings(reading.score), "一 三メ 2↓20 -");
  EXPECT_THAT(reading.score.verses, IsEmpty());
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Annotation, KeepsItsPitchBesideTheFingering) {
  const Reading reading = read(one_bar(note("C5", 8, named("三"))));
  EXPECT_EQ(melody(reading.score), "0 C5 4");
}

TEST(Annotation, StrokesBehindItAreNotRead) {
  for (const char* strokes : {"／", "＿", "＿｜", "＿｜＿"}) {
    EXPECT_EQ(fingerings(read(one_bar(note("C5", 8, named("五" + std::string(strokes))))).score),
              "五");
  }
}

TEST(Annotation, GapsKeepTheirOwnPitch) {
  const Reading reading =
      read(one_bar(note("F#4", 4, named("?F#4")) + note("F#4", 4, named("?F#4↓20"))));
  EXPECT_EQ(fingerings(reading.score), "?F#4 ?F#4-20");
  EXPECT_EQ(melody(reading.score), "0 F#4 2, 2 F#4-20 2");
}

TEST(Annotation, SignsOfAFluteFileAreRead) {
  EXPECT_EQ(
      fingerings(read(one_bar(note("C5", 4, named("ハ")) + note("C5", 4, named("ハメ")))).score),
      "ハ ハメ");
}

TEST(Annotation, ThatIsNoneIsTold) {
  const Reading reading = read(one_bar(note("C5", 4, named("la")) + note("D5", 4, named("五五"))));
  EXPECT_EQ(fingerings(reading.score), "- -");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning not-a-fingering: 1 text marked as fingering is none and left "
                          "out (la): bar 1",
                          "warning not-a-fingering: 1 text marked as fingering is none and left "
                          "out (五五): bar 1"));
}

TEST(Annotation, IsReadFromWhereTheFieldSays) {
  EXPECT_EQ(fingerings(read(with_field("technical", note("C5", 8, technical("一")))).score), "一");
  EXPECT_EQ(fingerings(read(with_field("words", words("一") + note("C5", 8))).score), "一");
  // A program that dropped the name of the verse.
  EXPECT_EQ(fingerings(read(with_field("lyric", note("C5", 8, lyric("1", "single", "一")))).score),
            "一");
}

// A verse is taken for the fingering where more than half of its texts are signs.
TEST(Annotation, WithoutItsNameIsTheVerseThatHasMostlySigns) {
  const std::string half = note("C5", 4, lyric("1", "single", "一"));
  const Reading song = read(with_field("lyric", half + note("D5", 4, lyric("1", "single", "la"))));
  EXPECT_EQ(fingerings(song.score), "- -");
  EXPECT_EQ(verse(song.score, "1"), "一 la");
  const std::string most = half + note("D5", 2, lyric("1", "single", "二"));
  EXPECT_EQ(
      fingerings(read(with_field("lyric", most + note("D5", 2, lyric("1", "single", "la")))).score),
      "一 二 -");
}

TEST(Annotation, IsReadFromWhereTheOptionSays) {
  const std::string fingers = one_bar(note("C5", 8, technical("一")));
  EXPECT_EQ(fingerings(read(fingers).score), "-");
  EXPECT_EQ(fingerings(read(fingers, reading_as(Annotation::technical)).score), "一");
  const std::string over = one_bar(words("一") + note("C5", 8));
  EXPECT_EQ(fingerings(read(over).score), "-");
  EXPECT_EQ(fingerings(read(over, reading_as(Annotation::words)).score), "一");
  EXPECT_EQ(directions(read(over, reading_as(Annotation::words)).score), "");
}

TEST(Annotation, IsNotReadIfTheOptionSaysSo) {
  const Reading reading = read(one_bar(note("C5", 8, named("一"))), reading_as(Annotation::none));
  EXPECT_EQ(fingerings(reading.score), "-");
  EXPECT_THAT(reading.score.verses, IsEmpty());  // a song text it is not
}

TEST(Annotation, LeavesTheSongTextBesideItAlone) {
  const Reading reading = read(one_bar(note("C5", 4, named("一") + lyric("2", "single", "la")) +
                                       note("D5", 4, named("二") + lyric("2", "single", "lo"))));
  EXPECT_EQ(fingerings(reading.score), "一 二");
  EXPECT_EQ(verse(reading.score, "1"), "la lo");
}

TEST(Annotation, OnTheLaterNoteOfATieSaysNothing) {
  const Reading reading = read(one_bar(note("C5", 4, "<tie type=\"start\"/>" + named("一")) +
                                       note("C5", 4, "<tie type=\"stop\"/>" + named("二"))));
  EXPECT_EQ(fingerings(reading.score), "一");
}

}  // namespace
}  // namespace yubifu::musicxml
