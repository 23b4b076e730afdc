// Fingerings that stand in a staff file. An annotated file read again has those that were written,
// and only those.
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_score.h"
#include "musicxml/staff_text.h"
#include "musicxml/write/writer.h"

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

std::string plain_words(std::string_view text) {
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
  for (const char* strokes : {"／", "＿", "＿｜", "＿｜＿", "′", "″′", "′³", "／′"}) {
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
  EXPECT_EQ(fingerings(read(with_field("words", plain_words("一") + note("C5", 8))).score), "一");
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
  const std::string over = one_bar(plain_words("一") + note("C5", 8));
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

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr Annotation kAnnotationKinds[] = {Annotation::lyric, Annotation::lyric_above,
                                           Annotation::technical, Annotation::words};

AnnotateOptions full(Annotation kind) {
  return {kind, true, true};
}

TEST(AnnotatedReading, GivesTheFingeringsThatWereWritten) {
  const std::string text = one_bar(note("E5", 4) + rest(1) + note("C4", 1) + note("D5", 2));
  for (const Annotation kind : kAnnotationKinds) {
    const Reading reading = read(annotated(text, full(kind)));
    // 一 of size 7 is B4: E5 is a fourth above it, D5 a semitone under the third.
    EXPECT_EQ(fingerings(reading.score), "四 ?C4 三メ");
    EXPECT_THAT(reading.remarks, IsEmpty());
    EXPECT_EQ(reading.score.header.flute, model::FluteName(model::FluteSize{7, 0}));
  }
}

TEST(AnnotatedReading, LeavesSongTextAndOtherFingeringsWhatTheyAre) {
  const std::string text = one_bar(
      "<direction placement=\"below\"><direction-type><words>A</words></direction-type>"
      "</direction>" +
      note("E5", 4,
           "<notations><technical><fingering>3</fingering></technical></notations>" +
               lyric("1", "single", "一")) +
      note("F#5", 2, lyric("1", "single", "二")) + note("F#5", 2, lyric("1", "single", "三")));
  for (const Annotation kind : kAnnotationKinds) {
    const Reading reading = read(annotated(text, full(kind)));
    EXPECT_EQ(fingerings(reading.score), "四 五 五");
    EXPECT_EQ(verse(reading.score, "1"), "一 二 三");
    EXPECT_EQ(directions(reading.score), "1:0 text A");
    EXPECT_EQ(reading.remarks.size(), 1u);  // the fingering of another instrument
  }
}

// The staff does not move when the fingers do, so the file has to say it. On size 7 四 is E5, 五
// F#5; A4 lies between its tube tone and 一.
TEST(AnnotatedReading, SoundsWhereTheFingersWereMoved) {
  const std::string text = one_bar(note("E4", 4) + note("F#4", 2) + note("A3", 2));
  for (const Annotation kind : kAnnotationKinds) {
    AnnotateOptions up = full(kind);
    up.octaves = 1;
    const std::string moved = annotated(text, up);
    EXPECT_THAT(moved, HasSubstr("<miscellaneous-field name=\"yubifu.octave\">P1 1<"));
    EXPECT_EQ(bare(moved), text);
    const Reading reading = read(moved);
    EXPECT_EQ(fingerings(reading.score), "四 五 ?A4");
    EXPECT_EQ(melody(reading.score), "0 E5 2, 2 F#5 1, 3 A4 1");
    EXPECT_THAT(
        reading.remarks,
        ElementsAre("note annotated-octave: the fingering lies one octave above the written "
                    "notes, and so it sounds"));
  }
  AnnotateOptions down;
  down.octaves = -2;
  const Reading low = read(annotated(one_bar(note("E7", 8)), down));
  EXPECT_EQ(fingerings(low.score), "四");
  EXPECT_EQ(melody(low.score), "0 E5 4");
  EXPECT_THAT(low.remarks, ElementsAre(HasSubstr("lies 2 octaves below the written notes")));
}

TEST(AnnotatedReading, SaysNothingOfOctavesWhereNothingWasMoved) {
  const std::string text = one_bar(note("E5", 8));
  EXPECT_THAT(annotated(text), Not(HasSubstr("yubifu.octave")));
  EXPECT_THAT(read(annotated(text)).remarks, IsEmpty());
}

TEST(AnnotatedReading, MovesOnlyThePartThatWasMoved) {
  const auto part = [](const std::string& id, const std::string& pitch) {
    return "<part id=\"" + id + "\">" + measure("1", attributes(1, "4/4") + note(pitch, 4)) +
           "</part>";
  };
  AnnotateOptions up;
  up.octaves = 1;
  MusicXmlReadOptions first;
  first.part = "1";
  MusicXmlReadOptions second;
  second.part = "2";
  // With an id, without one, and with one that is no plain word in the file.
  for (const std::string id : {"P1", "", "a &amp; b"}) {
    const std::string moved =
        annotated(document(part(id, "E4") + part("P2", "D4")), up, {7, 0}, first);
    EXPECT_EQ(melody(read(moved, first).score), "0 E5 4") << id;
    EXPECT_EQ(melody(read(moved, second).score), "0 D4 4") << id;
  }
}

TEST(AnnotatedReading, NamesAFieldOfOctavesThatSaysNothing) {
  AnnotateOptions up;
  up.octaves = 1;
  const std::string moved = annotated(one_bar(note("E4", 8)), up);
  for (const std::string wrong : {"1", "P1", "P1 x", "P1 11", "P1 ", ""}) {
    std::string text = moved;
    text.replace(text.find("P1 1<"), 4, wrong);
    const Reading reading = read(text);
    EXPECT_EQ(melody(reading.score), "0 E4 4") << wrong;
    EXPECT_THAT(reading.remarks, ElementsAre(HasSubstr("field of our own cannot be read")))
        << wrong;
  }
}

TEST(AnnotatedReading, FollowsAVoiceOverTheStaves) {
  const std::string text =
      one_bar(note("E5", 2, "<staff>1</staff>") + note("F#5", 2, "<staff>2</staff>") +
              note("E5", 4, "<staff>1</staff>"));
  for (const Annotation kind : kAnnotationKinds) {
    EXPECT_EQ(fingerings(read(annotated(text, full(kind))).score), "四 五 四");
  }
}

TEST(AnnotatedReading, GivesNothingWithoutTheAnnotation) {
  const std::string text = one_bar(note("E5", 8));
  for (const Annotation kind : kAnnotationKinds) {
    EXPECT_EQ(fingerings(read(bare(annotated(text, full(kind)))).score), "-");
  }
}

TEST(AnnotatedReading, HoldsOverTheFieldsOfAnExport) {
  MusicXmlWriteOptions write;
  write.annotation = Annotation::none;
  const base::Outcome<std::string> text =
      write_musicxml(support::fingered_score("三 三メ 0 七"), write);
  ASSERT_TRUE(text.ok());
  for (const Annotation kind : kAnnotationKinds) {
    const Reading reading = read(annotated(*text.value, full(kind), {9, 0}));
    EXPECT_EQ(reading.score.header.flute, model::FluteName(model::FluteSize{9, 0}));
    // E5 Eb5 Bb5 B5 on a flute whose 一 is C#5: a semitone lower each, and 0 a whole tone under 1.
    EXPECT_EQ(fingerings(reading.score), "三メ 二 六 0");
  }
}

}  // namespace
}  // namespace yubifu::musicxml
