// Ties, chords, grace notes.
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

const std::string kStart = "<tie type=\"start\"/>";
const std::string kStop = "<tie type=\"stop\"/>";
const std::string kBoth = kStop + kStart;
const std::string kTiedStart = "<notations><tied type=\"start\"/></notations>";
const std::string kTiedStop = "<notations><tied type=\"stop\"/></notations>";
const std::string kTiedBoth = "<notations><tied type=\"stop\"/><tied type=\"start\"/></notations>";
const std::string kTiedContinue = "<notations><tied type=\"continue\"/></notations>";

std::string repeat(std::string_view location, std::string_view direction) {
  return "<barline location=\"" + std::string(location) + "\"><repeat direction=\"" +
         std::string(direction) + "\"/></barline>";
}

TEST(Ties, JoinNotesToOne) {
  for (const auto& [start, stop] :
       {std::pair(kStart, kStop), std::pair(kTiedStart, kTiedStop), std::pair(kStart, kTiedStop),
        std::pair(kTiedStart, kStop), std::pair(kStart + kTiedStart, kStop + kTiedStop)}) {
    const Reading reading =
        read(one_bar(note("D5", 2, start) + note("D5", 4, stop) + note("D5", 2)));
    EXPECT_EQ(melody(reading.score), "0 D5 3, 3 D5 1") << start << stop;
    EXPECT_THAT(reading.remarks, IsEmpty());
  }
}

TEST(Ties, MakeChains) {
  for (const std::string& middle : {kBoth, kTiedBoth, kTiedContinue}) {
    const Reading reading =
        read(one_bar(note("D5", 2, kStart + kTiedStart) + note("D5", 2, middle) +
                     note("D5", 2, middle) + note("D5", 2, kStop + kTiedStop)));
    EXPECT_EQ(melody(reading.score), "0 D5 4") << middle;
    EXPECT_THAT(reading.remarks, IsEmpty());
  }
}

TEST(Ties, LeadOverBarLinesAndRepeats) {
  const Reading bars = read(one_part(measure("1", attributes(1, "2/4") + note("D5", 2, kStart)) +
                                     measure("2", note("D5", 2, kBoth)) +
                                     measure("3", note("D5", 1, kStop) + note("E5", 1))));
  EXPECT_EQ(melody(bars.score), "0 D5 5 |  | 1 E5 1");
  const Reading repeats = read(one_part(
      measure("1", attributes(1, "2/4") + note("D5", 2, kStart) + repeat("right", "backward")) +
      measure("2", repeat("left", "forward") + note("D5", 2, kStop))));
  EXPECT_EQ(melody(repeats.score), "0 D5 4 | ");
  EXPECT_TRUE(repeats.score.measures[0].repeat_end);
  EXPECT_TRUE(repeats.score.measures[1].repeat_start);
}

TEST(Ties, JoinNotesThatAreSpelledInTwoWays) {
  EXPECT_EQ(melody(read(one_bar(note("F#5", 4, kStart) + note("Gb5", 4, kStop))).score), "0 F#5 4");
}

TEST(Ties, WithoutAPartnerLoseNothing) {
  const std::string broken =
      "warning tie-without-partner: 1 tie leads to no note of its pitch; both notes are struck: "
      "bar 1";
  // To another pitch, to a note that does not end it, over a rest, to nothing.
  EXPECT_EQ(melody(read(one_bar(note("D5", 4, kStart) + note("E5", 4))).score), "0 D5 2, 2 E5 2");
  for (const std::string& second :
       {note("E5", 4), note("D5", 4), rest(2) + note("E5", 2), rest(4)}) {
    EXPECT_THAT(read(one_bar(note("D5", 4, kStart) + second)).remarks, ElementsAre(broken));
  }
  const Reading same = read(one_bar(note("D5", 4, kStart) + note("D5", 4)));
  EXPECT_EQ(melody(same.score), "0 D5 2, 2 D5 2");
}

TEST(Ties, ThatOnlyEndAreStruck) {
  const Reading reading = read(one_bar(note("D5", 4) + note("D5", 4, kStop)));
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 D5 2");
  EXPECT_THAT(reading.remarks, ElementsAre("warning tie-without-partner: 1 tie ends on a note "
                                           "without having begun; the note is struck: bar 1"));
}

TEST(Ties, OverARestStrikeTwice) {
  const Reading reading = read(one_bar(note("D5", 2, kStart) + rest(2) + note("D5", 4, kStop)));
  EXPECT_EQ(melody(reading.score), "0 D5 1, 2 D5 2");
  EXPECT_EQ(reading.remarks.size(), 2u);  // one that leads nowhere, one that comes from nowhere
}

TEST(Ties, IntoASecondEndingStartAnew) {
  // The tie leads into the first ending; the second has only the stop.
  const auto ending = [](std::string_view number, std::string_view type, std::string_view more) {
    return "<barline location=\"" + std::string(type == "start" ? "left" : "right") +
           "\"><ending number=\"" + std::string(number) + "\" type=\"" + std::string(type) +
           "\"/>" + std::string(more) + "</barline>";
  };
  const Reading reading = read(one_part(
      measure("1", attributes(1, "2/4") + note("D5", 2, kStart)) +
      measure("2", ending("1", "start", "") + note("D5", 2, kStop) +
                       ending("1", "stop", "<repeat direction=\"backward\"/>")) +
      measure("3", ending("2", "start", "") + note("D5", 2, kStop) + ending("2", "stop", ""))));
  EXPECT_EQ(melody(reading.score), "0 D5 4 |  | 0 D5 2");
  EXPECT_EQ(reading.remarks.size(), 1u);
}

TEST(Ties, LetRingIsLeftOutAndTold) {
  const Reading reading =
      read(one_bar(note("D5", 8, "<notations><tied type=\"let-ring\"/></notations>")));
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 mark on a note left out (tied): "
                                           "bar 1"));
}

// --- Chords

std::string chord(std::string_view pitch, int duration, std::string_view more = {}) {
  return note_with("<chord/>", pitch, duration, more);
}

// Of a chord its highest note is kept, so a tie with a lower one has lost its partner.
TEST(Chords, ATieWithALowerNoteIsToldAsThat) {
  const std::string told =
      "warning tie-without-partner: 1 tie with a lower note of a chord is left out with that note: "
      "bar 1";
  const std::string lost = "warning left-out: 1 chord note left out: bar 1";
  const Reading into = read(one_bar(note("D5", 4, kStart) + note("D5", 4, kStop) + chord("F5", 4)));
  EXPECT_EQ(melody(into.score), "0 D5 2, 2 F5 2");
  EXPECT_THAT(into.remarks, testing::UnorderedElementsAre(told, lost));
  const Reading from = read(one_bar(note("D5", 4, kStart) + chord("F5", 4) + note("D5", 4, kStop)));
  EXPECT_EQ(melody(from.score), "0 F5 2, 2 D5 2");
  EXPECT_THAT(from.remarks, testing::UnorderedElementsAre(told, lost));
  // In the middle of a chain: the tie before it holds.
  const Reading chain = read(one_bar(note("D5", 2, kStart) + note("D5", 2, kStop + kStart) +
                                     note("D5", 4, kStop) + chord("F5", 4)));
  EXPECT_EQ(melody(chain.score), "0 D5 2, 2 F5 2");
  EXPECT_THAT(chain.remarks, testing::UnorderedElementsAre(told, lost));
}

TEST(Chords, KeepTheirHighestNote) {
  const Reading reading = read(
      one_bar(note("D5", 4) + chord("F5", 4) + chord("A4", 4) + note("G5", 4) + chord("E5", 4)));
  EXPECT_EQ(melody(reading.score), "0 F5 2, 2 G5 2");
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 3 chord notes left out: bar 1"));
}

TEST(Chords, AreComparedAsTheySound) {
  EXPECT_EQ(melody(read(one_bar(note("E#5", 8) + chord("Fb5", 8))).score), "0 E#5 4");
}

TEST(Chords, TiesFollowTheNoteThatIsKept) {
  const Reading reading = read(one_bar(note("D5", 4, kStart) + chord("F5", 4, kStart) +
                                       note("D5", 4, kStop) + chord("F5", 4, kStop)));
  EXPECT_EQ(melody(reading.score), "0 F5 4");
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 2 chord notes left out: bar 1"));
}

TEST(Chords, ATieOfALowerNoteHoldsNothing) {
  // The upper line moves while the lower one is held: two attacks, and no tie is missed.
  const Reading reading =
      read(one_bar(note("D5", 4, kStart) + chord("F5", 4) + note("D5", 4, kStop) + chord("G5", 4)));
  EXPECT_EQ(melody(reading.score), "0 F5 2, 2 G5 2");
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 2 chord notes left out: bar 1"));
}

TEST(Chords, MarksAndTextOfAnyMemberCount) {
  const Reading reading = read(
      one_bar(note("D5", 8, "<notations><fermata/></notations><lyric><text>la</text></lyric>") +
              chord("F5", 8, "<notations><articulations><accent/></articulations></notations>")));
  EXPECT_EQ(reading.score.notes[0].marks, (std::vector{model::Mark::fermata, model::Mark::accent}));
  EXPECT_EQ(verse(reading.score, "1"), "la");
}

TEST(Chords, AMemberWithoutANoteBeforeItIsANote) {
  const Reading reading = read(one_bar(chord("D5", 4) + note("E5", 4)));
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 E5 2");
  EXPECT_THAT(reading.remarks, ElementsAre("warning odd-position: 1 chord note follows no note: "
                                           "bar 1"));
}

TEST(Chords, AMemberWithoutDurationLastsLikeTheNoteItJoins) {
  const Reading reading = read(one_bar(
      note("D5", 4) + "<note><chord/><pitch><step>F</step><octave>5</octave></pitch></note>" +
      note("E5", 4)));
  EXPECT_EQ(melody(reading.score), "0 F5 2, 2 E5 2");
}

// --- Grace notes

std::vector<std::string> spellings(const std::vector<model::Tone>& tones) {
  std::vector<std::string> list;
  for (const model::Tone& tone : tones) list.push_back(to_text(*tone.spelling));
  return list;
}

TEST(GraceNotes, StandBeforeTheirNote) {
  const Reading reading = read(one_bar(grace("E5") + grace("F5") + note("D5", 4) + note("E5", 4)));
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 E5 2");
  EXPECT_THAT(spellings(reading.score.notes[0].grace_before), ElementsAre("E5", "F5"));
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(GraceNotes, StandBehindTheirNoteIfTheyTakeTimeFromItOrNothingFollows) {
  const Reading stealing =
      read(one_bar(note("D5", 4) + grace("E5", "steal-time-previous=\"20\"") + note("F5", 4)));
  EXPECT_THAT(spellings(stealing.score.notes[0].grace_after), ElementsAre("E5"));
  const Reading last =
      read(one_part(measure("1", attributes(1, "2/4") + note("D5", 2) + grace("E5")) +
                    measure("2", note("F5", 2))));
  EXPECT_THAT(spellings(last.score.notes[0].grace_after), ElementsAre("E5"));
  const Reading before_rest = read(one_bar(note("D5", 4) + grace("E5") + rest(4)));
  EXPECT_THAT(spellings(before_rest.score.notes[0].grace_after), ElementsAre("E5"));
}

TEST(GraceNotes, AtTheVeryStartTakeNoTimeFromANoteBefore) {
  const Reading reading = read(one_bar(grace("E5", "steal-time-previous=\"20\"") + note("D5", 8)));
  EXPECT_EQ(melody(reading.score), "0 D5 4");
  EXPECT_THAT(spellings(reading.score.notes[0].grace_before), ElementsAre("E5"));
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(GraceNotes, OnBothSidesInTurnsLoseNoTextOfTheNotesAfterThem) {
  const auto sung = [](std::string note, std::string_view text) {
    return note.insert(note.rfind("</note>"), lyric("1", "single", text));
  };
  const std::string_view steals = "steal-time-previous=\"20\"";
  const Reading reading = read(one_bar(sung(note("D5", 4), "a") + grace("E5", steals) +
                                       grace("F5") + sung(grace("G5", steals), "x") +
                                       sung(note("A5", 2), "b") + sung(note("D5", 2), "c")));
  ASSERT_EQ(reading.score.notes.size(), 3U);
  EXPECT_THAT(spellings(reading.score.notes[0].grace_after), ElementsAre("E5", "G5"));
  EXPECT_THAT(spellings(reading.score.notes[1].grace_before), ElementsAre("F5"));
  std::string sung_text;
  for (const model::Note& note : reading.score.notes) sung_text += note.syllables.at(0).text;
  EXPECT_EQ(sung_text, "abc");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning left-out: 1 syllable on a grace note left out: bar 1"));
}

TEST(GraceNotes, InAChordKeepTheHighest) {
  const Reading reading = read(one_bar(
      grace("E5") + "<note><grace/><chord/><pitch><step>G</step><octave>5</octave></pitch></note>" +
      note("D5", 8)));
  EXPECT_THAT(spellings(reading.score.notes[0].grace_before), ElementsAre("G5"));
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 chord note left out: bar 1"));
}

TEST(GraceNotes, WithoutAMainNoteAreTold) {
  const Reading reading = read(one_bar(grace("E5") + rest(8)));
  EXPECT_EQ(melody(reading.score), "");
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 grace note without a main note "
                                           "left out: bar 1"));
  const Reading inside = read(one_bar(note("D5", 4, kStart) + grace("E5") + note("D5", 4, kStop)));
  EXPECT_EQ(melody(inside.score), "0 D5 4");
  EXPECT_THAT(inside.remarks, ElementsAre("warning left-out: 1 grace note without a main note "
                                          "left out: bar 1"));
}

TEST(GraceNotes, CannotCarryMarksAndText) {
  const std::string content =
      "<note><grace/><pitch><step>E</step><octave>5</octave></pitch><notations><articulations>"
      "<accent/></articulations></notations><lyric><text>la</text></lyric></note>";
  const Reading reading = read(one_bar(content + note("D5", 8)));
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning left-out: 1 mark on a grace note left out (accent): bar 1",
                          "warning left-out: 1 syllable on a grace note left out: bar 1"));
}

TEST(GraceNotes, ACueGraceIsLeftOut) {
  const Reading reading =
      read(one_bar("<note><grace/><cue/><pitch><step>E</step><octave>5</octave></pitch></note>" +
                   note("D5", 8)));
  EXPECT_THAT(reading.score.notes[0].grace_before, IsEmpty());
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 cue note left out: bar 1"));
}

}  // namespace
}  // namespace yubifu::musicxml
