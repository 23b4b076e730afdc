// An annotated file read again: its fingerings are those that were written, and only those.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/annotated_file.h"
#include "musicxml/staff_score.h"
#include "musicxml/staff_text.h"
#include "musicxml/writer.h"

namespace yubifu::musicxml {
namespace {

using testing::IsEmpty;

constexpr Annotation kKinds[] = {Annotation::lyric, Annotation::lyric_above, Annotation::technical,
                                 Annotation::words};

AnnotateOptions full(Annotation kind) {
  return {kind, true, true};
}

TEST(AnnotatedReading, GivesTheFingeringsThatWereWritten) {
  const std::string text = one_bar(note("E5", 4) + rest(1) + note("C4", 1) + note("D5", 2));
  for (const Annotation kind : kKinds) {
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
  for (const Annotation kind : kKinds) {
    const Reading reading = read(annotated(text, full(kind)));
    EXPECT_EQ(fingerings(reading.score), "四 五 五");
    EXPECT_EQ(verse(reading.score, "1"), "一 二 三");
    EXPECT_EQ(directions(reading.score), "1:0 text A");
    EXPECT_EQ(reading.remarks.size(), 1u);  // the fingering of another instrument
  }
}

// The staff does not move when the fingers do.
TEST(AnnotatedReading, TakesGapsOfAMovedMelody) {
  const std::string text = one_bar(note("E5", 4) + note("C4", 4));
  const std::string moved = [&] {
    std::string result = annotated(text);
    return result.replace(result.find("?C4"), 3, "?C5");
  }();
  const Reading reading = read(moved);
  EXPECT_THAT(reading.remarks, IsEmpty());
  EXPECT_EQ(melody(reading.score), "0 E5 2, 2 C4 2");
}

TEST(AnnotatedReading, FollowsAVoiceOverTheStaves) {
  const std::string text =
      one_bar(note("E5", 2, "<staff>1</staff>") + note("F#5", 2, "<staff>2</staff>") +
              note("E5", 4, "<staff>1</staff>"));
  for (const Annotation kind : kKinds) {
    EXPECT_EQ(fingerings(read(annotated(text, full(kind))).score), "四 五 四");
  }
}

TEST(AnnotatedReading, GivesNothingWithoutTheAnnotation) {
  const std::string text = one_bar(note("E5", 8));
  for (const Annotation kind : kKinds) {
    EXPECT_EQ(fingerings(read(bare(annotated(text, full(kind)))).score), "-");
  }
}

TEST(AnnotatedReading, HoldsOverTheFieldsOfAnExport) {
  MusicXmlWriteOptions write;
  write.annotation = Annotation::none;
  const base::Outcome<std::string> text =
      write_musicxml(support::fingered_score("三 三メ 0 七"), write);
  ASSERT_TRUE(text.ok());
  for (const Annotation kind : kKinds) {
    const Reading reading = read(annotated(*text.value, full(kind), {9, 0}));
    EXPECT_EQ(reading.score.header.flute, model::FluteName(model::FluteSize{9, 0}));
    // E5 Eb5 Bb5 B5 on a flute whose 一 is C#5: a semitone lower each, and 0 a whole tone under 1.
    EXPECT_EQ(fingerings(reading.score), "三メ 二 六 0");
  }
}

}  // namespace
}  // namespace yubifu::musicxml
