// Which part, voice and staff of a file become the score.
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

std::string choice_part(std::string_view id, std::string_view measures) {
  return fmt::format("<part id=\"{}\">{}</part>\n", id, measures);
}

std::string part_list(const std::vector<std::pair<std::string, std::string>>& parts) {
  std::string list;
  for (const auto& [id, name] : parts) {
    list += fmt::format("<score-part id=\"{}\"><part-name>{}</part-name></score-part>", id, name);
  }
  return "<part-list>" + list + "</part-list>\n";
}

// A bar of quarters in 16/4, so that everything fits.
std::string quarters(std::initializer_list<const char*> pitches, std::string_view more = {}) {
  std::string content = attributes(1, "16/4");
  for (const char* pitch : pitches) content += note(pitch, 1, more);
  return measure("1", content);
}

std::string chord_note(std::string_view pitch, int duration, std::string_view more = {}) {
  return note_with("<chord/>", pitch, duration, more);
}

std::string in_voice(std::string_view voice) {
  return fmt::format("<voice>{}</voice>", voice);
}

std::string choice_backup(int duration) {
  return fmt::format("<backup><duration>{}</duration></backup>", duration);
}

MusicXmlReadOptions part_option(std::string_view asked) {
  MusicXmlReadOptions options;
  options.part = asked;
  return options;
}

// Two parts of one note each.
std::string two_parts() {
  return document(part_list({{"P1", "Flute"}, {"P2", "Voice"}}) +
                  choice_part("P1", quarters({"D5"})) + choice_part("P2", quarters({"E5", "F5"})));
}

TEST(PartChoice, TakesTheOneAskedFor) {
  for (const char* asked : {"P1", "Flute", "1"}) {
    const Reading reading = read(two_parts(), part_option(asked));
    EXPECT_EQ(melody(reading.score), "0 D5 1") << asked;
    EXPECT_THAT(reading.remarks, IsEmpty()) << asked;
  }
  for (const char* asked : {"P2", "Voice", "2"}) {
    EXPECT_EQ(melody(read(two_parts(), part_option(asked)).score), "0 E5 1, 1 F5 1") << asked;
  }
}

TEST(PartChoice, AnIdCountsBeforeANameAndANameBeforeANumber) {
  const std::string text = document(
      part_list({{"A", "B"}, {"B", "1"}, {"C", "A"}}) + choice_part("A", quarters({"C5"})) +
      choice_part("B", quarters({"D5"})) + choice_part("C", quarters({"E5"})));
  EXPECT_EQ(melody(read(text, part_option("A")).score), "0 C5 1");
  EXPECT_EQ(melody(read(text, part_option("B")).score), "0 D5 1");
  EXPECT_EQ(melody(read(text, part_option("1")).score), "0 D5 1");
  EXPECT_EQ(melody(read(text, part_option("3")).score), "0 E5 1");
}

TEST(PartChoice, AnUnknownPartIsRefusedWithThoseThereAre) {
  for (const char* asked : {"Drum", "0", "3", "-1"}) {
    EXPECT_EQ(refusal(two_parts(), part_option(asked)),
              fmt::format("- unknown-part: there is no part '{}'; the file has part 'Flute' (P1), "
                          "part 'Voice' (P2)",
                          asked));
  }
}

TEST(PartChoice, WorksWithoutAPartList) {
  const std::string text =
      document(choice_part("P7", quarters({"D5"})) + choice_part("", quarters({"E5"})));
  EXPECT_EQ(melody(read(text, part_option("P7")).score), "0 D5 1");
  EXPECT_EQ(melody(read(text, part_option("2")).score), "0 E5 1");
}

TEST(PartChoice, OfEqualHeightsOneOfSingleNotes) {
  // Nine of ten attacks must be single: the first part has one chord in nine, the second in ten.
  std::string chords = attributes(1, "16/4") + note("C5", 1) + chord_note("E5", 1);
  for (int i = 0; i < 8; ++i) chords += note("D5", 1);
  const std::string more = chords + note("D5", 1);
  const std::string single = choice_part("B", quarters({"C5", "D5"}));
  EXPECT_EQ(melody(read(document(choice_part("A", measure("1", chords)) + single)).score),
            "0 C5 1, 1 D5 1");
  const Reading with_ten = read(document(choice_part("A", measure("1", more)) + single));
  EXPECT_EQ(with_ten.score.notes.size(), 10u);
  EXPECT_EQ(with_ten.score.notes[0].tone.pitch->key, 76);  // E5, the upper one
}

TEST(PartChoice, HeightsAreThoseThatSound) {
  // Written C9 sounds C5 four octaves lower, under E5.
  const std::string moved =
      measure("1",
              "<attributes><divisions>1</divisions><transpose><chromatic>0</chromatic>"
              "<octave-change>-4</octave-change></transpose></attributes>" +
                  note("C9", 1) + note("D9", 1));
  const std::string other = measure("1", attributes(1, "4/4") + note("E5", 1) + note("G5", 1));
  EXPECT_EQ(melody(read(document(choice_part("A", moved) + choice_part("B", other))).score),
            "0 E5 1, 1 G5 1");
}

TEST(PartChoice, IsToldInOneNoteWithItsReason) {
  EXPECT_THAT(read(two_parts()).remarks,
              ElementsAre("note voice-chosen: the melody is read from part 'Voice' (P2), voice 1, "
                          "because its name says so; left out: part 'Flute' (P1)"));
  const std::string voices = measure("1", attributes(1, "4/4") + note("D5", 2, in_voice("1")) +
                                              note("E5", 2, in_voice("1")) + choice_backup(1) +
                                              note("C4", 1, in_voice("2")));
  EXPECT_THAT(
      read(document(choice_part("P1", voices) + choice_part("P2", quarters({"A4"})))).remarks,
      ElementsAre("note voice-chosen: the melody is read from part P1, voice 1, because it "
                  "lies highest; left out: part P2, voice 2 (1 note)"));
}

// --- Percussion

TEST(Percussion, IsRefusedInWords) {
  const std::string drum =
      measure("1", attributes(1, "4/4") + "<note><unpitched/><duration>4</duration></note>");
  EXPECT_EQ(
      refusal(document(choice_part("D", drum))),
      "3:14 unpitched-part: the file holds percussion only: its notes have no pitch to finger");
  EXPECT_EQ(refusal(document(choice_part("D", drum) + choice_part("F", quarters({"D5"}))),
                    part_option("D")),
            "3:14 unpitched-part: part D is percussion: its notes have no pitch to finger");
  EXPECT_EQ(
      melody(read(document(choice_part("D", drum) + choice_part("F", quarters({"D5"})))).score),
      "0 D5 1");
}

TEST(Percussion, IsToldByItsClefToo) {
  const std::string staff =
      measure("1",
              "<attributes><divisions>1</divisions><clef><sign>percussion</sign></clef>"
              "</attributes>" +
                  note("C5", 1));
  EXPECT_EQ(
      refusal(document(choice_part("D", staff))),
      "3:14 unpitched-part: the file holds percussion only: its notes have no pitch to finger");
}

TEST(Percussion, InAMelodyIsLeftOut) {
  const Reading reading =
      read(one_bar("<note><unpitched/><duration>4</duration></note>" + note("D5", 4)));
  EXPECT_EQ(melody(reading.score), "2 D5 2");
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 unpitched note left out: bar 1"));
}

TEST(PartChoice, FilesOfRestsOnlyAreRead) {
  const Reading reading = read(one_bar(rest(8)));
  EXPECT_EQ(melody(reading.score), "");
  EXPECT_EQ(lengths(reading.score), "4");
  EXPECT_EQ(lengths(read(one_part(measure("1", ""))).score), "0");
}

// --- Voices and staves

std::string two_voices() {
  return one_part(measure("1", attributes(1, "4/4") + note("D5", 2, in_voice("1")) +
                                   note("E5", 2, in_voice("1")) + choice_backup(4) +
                                   note("C4", 4, in_voice("2"))) +
                  measure("2", note("F5", 4, in_voice("1"))) +
                  measure("3", note("G4", 4, in_voice("2"))));
}

TEST(VoiceChoice, TakesTheUpperOneOrTheOneAskedFor) {
  MusicXmlReadOptions options;
  EXPECT_EQ(melody(read(two_voices(), options).score), "0 D5 2, 2 E5 2 | 0 F5 4 | 0 G4 4");
  options.voice = "1";
  EXPECT_EQ(melody(read(two_voices(), options).score), "0 D5 2, 2 E5 2 | 0 F5 4 | ");
  options.voice = "2";
  EXPECT_EQ(melody(read(two_voices(), options).score), "0 C4 4 |  | 0 G4 4");
}

TEST(VoiceChoice, AnUnknownVoiceIsRefusedWithThoseThereAre) {
  MusicXmlReadOptions options;
  options.voice = "3";
  EXPECT_EQ(refusal(two_voices(), options), "- unknown-voice: the part has no notes in voice '3'");
  options = {};
  options.staff_number = 2;
  EXPECT_EQ(refusal(two_voices(), options), "- unknown-voice: the part has no notes in staff 2");
}

TEST(VoiceChoice, SilenceWhereAnotherVoicePlaysIsToldWithItsBars) {
  MusicXmlReadOptions options;
  options.voice = "1";
  EXPECT_THAT(read(two_voices(), options).remarks,
              ElementsAre("warning silent-voice: 1 bar has notes in other voices only: bar 3"));
  // Where all rest, nothing is lost; cue notes of another voice are none of the melody either.
  const std::string rests =
      one_part(measure("1", attributes(1, "4/4") + note("D5", 4, in_voice("1"))) +
               measure("2", rest(4, in_voice("2"))) +
               measure("3", note_with("<cue/>", "C4", 4, in_voice("2"))));
  EXPECT_THAT(read(rests, options).remarks, IsEmpty());
}

TEST(VoiceChoice, NotesWithoutAVoiceAreOfVoiceOne) {
  MusicXmlReadOptions options;
  options.voice = "1";
  EXPECT_EQ(melody(read(one_bar(note("D5", 8)), options).score), "0 D5 4");
}

TEST(VoiceChoice, NamesOfVoicesAreTexts) {
  MusicXmlReadOptions options;
  options.voice = "upper";
  EXPECT_EQ(
      melody(read(one_bar(note("D5", 4, in_voice("upper")) + note("E5", 4, in_voice("2"))), options)
                 .score),
      "0 D5 2");
}

std::string on_staff(int staff, std::string_view voice) {
  return fmt::format("<voice>{}</voice><staff>{}</staff>", voice, staff);
}

TEST(StaffChoice, TakesTheStaffAskedFor) {
  const std::string text =
      one_part(measure("1", attributes(1, "4/4") + note("D5", 2, on_staff(1, "1")) +
                                note("E5", 2, on_staff(1, "1")) + choice_backup(4) +
                                note("C3", 4, on_staff(2, "5"))));
  MusicXmlReadOptions options;
  EXPECT_EQ(melody(read(text, options).score), "0 D5 2, 2 E5 2");
  options.staff_number = 2;
  EXPECT_EQ(melody(read(text, options).score), "0 C3 4");
}

TEST(StaffChoice, AVoiceThatCrossesTheStavesStaysOne) {
  const std::string text =
      one_part(measure("1", attributes(1, "4/4") + note("C4", 2, on_staff(2, "1")) +
                                note("E5", 2, on_staff(1, "1"))));
  EXPECT_EQ(melody(read(text).score), "0 C4 2, 2 E5 2");
}

TEST(StaffChoice, OneNumberForTwoLinesIsTwoVoices) {
  // Both staves number their voice 1.
  const std::string text =
      one_part(measure("1", attributes(1, "4/4") + note("D5", 2, on_staff(1, "1")) +
                                note("E5", 2, on_staff(1, "1")) + choice_backup(4) +
                                note("C3", 4, on_staff(2, "1"))));
  const Reading reading = read(text);
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 E5 2");
  EXPECT_THAT(reading.remarks,
              ElementsAre("note voice-chosen: the melody is read from part 'Flute' (P1), voice 1 "
                          "on staff 1, because it stands on the upper staff; left out: voice 1 on "
                          "staff 2 (1 note)"));
}

TEST(StaffChoice, AttributesOfTheOtherStaffDoNotCount) {
  const std::string text = one_part(
      measure("1",
              "<attributes><divisions>1</divisions><key number=\"2\"><fifths>3</fifths></key>"
              "<time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves>"
              "<transpose number=\"2\"><chromatic>5</chromatic></transpose></attributes>" +
                  note("D5", 4, on_staff(1, "1")) + choice_backup(4) +
                  note("C4", 2, on_staff(2, "5")) + choice_backup(2)));
  MusicXmlReadOptions options;
  options.voice = "1";
  EXPECT_EQ(melody(read(text, options).score), "0 D5 4");
  options.voice = "5";
  const Reading second = read(text, options);
  EXPECT_EQ(melody(second.score), "0 F4 2");
}

// --- Timewise

TEST(Timewise, IsReadLikePartwise) {
  const std::string text =
      "<score-timewise><part-list><score-part id=\"P1\"><part-name>Flute</part-name></score-part>"
      "<score-part id=\"P2\"><part-name>Voice</part-name></score-part></part-list>"
      "<measure number=\"1\"><part id=\"P1\">" +
      attributes(1, "2/4") + note("D5", 2) + "</part><part id=\"P2\">" + attributes(1, "2/4") +
      note("E5", 1) + note("F5", 1) + "</part></measure><measure number=\"2\"><part id=\"P2\">" +
      note("G5", 2) + "</part></measure></score-timewise>";
  EXPECT_EQ(melody(read(text).score), "0 E5 1, 1 F5 1 | 0 G5 2");
  // A measure may lack a part.
  const Reading flute = read(text, part_option("Flute"));
  EXPECT_EQ(melody(flute.score), "0 D5 2 | ");
  EXPECT_EQ(lengths(flute.score), "2 2");
}

TEST(Timewise, UnderAPartwiseDoctypeIsReadByItsRoot) {
  const std::string text =
      "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 3.0 Partwise//EN\" "
      "\"http://www.musicxml.org/dtds/partwise.dtd\">\n<score-timewise><measure number=\"1\">"
      "<part id=\"P1\">" +
      attributes(1, "2/4") + note("D5", 2) + "</part></measure></score-timewise>";
  EXPECT_EQ(melody(read(text).score), "0 D5 2");
}

}  // namespace
}  // namespace yubifu::musicxml
