// Durations, positions and bars.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

std::string type(std::string_view name, std::string_view more = {}) {
  return "<type>" + std::string(name) + "</type>" + std::string(more);
}

std::string ratio(int actual, int normal) {
  return "<time-modification><actual-notes>" + std::to_string(actual) +
         "</actual-notes><normal-notes>" + std::to_string(normal) +
         "</normal-notes></time-modification>";
}

std::string backup(int duration) {
  return "<backup><duration>" + std::to_string(duration) + "</duration></backup>\n";
}

std::string forward(int duration) {
  return "<forward><duration>" + std::to_string(duration) + "</duration></forward>\n";
}

std::string divisions(std::string_view value) {
  return "<attributes><divisions>" + std::string(value) + "</divisions></attributes>\n";
}

TEST(Divisions, ThatNoMusicNeedsAreRefusedAlsoWhereTheyAreGuessed) {
  const std::string long_note =
      "<note><pitch><step>D</step><octave>5</octave></pitch>"
      "<duration>9223372036854775804</duration><type>whole</type></note>";
  EXPECT_THAT(refusal(one_part(measure("1", long_note + note("E5", 1, "<type>maxima</type>")))),
              testing::HasSubstr("staff-limits: a quarter has more than 1000000000 divisions"));
}

TEST(Meter, OfMoreBeatsThanANumberHoldsIsNone) {
  const Reading reading =
      read(one_part(measure("1", attributes(1, "2147483647+1/4") + note("D5", 4))));
  EXPECT_EQ(melody(reading.score), "0 D5 4");
}

TEST(Rhythm, DurationsCountInDivisions) {
  const Reading reading = read(one_bar(note("D5", 2) + note("E5", 1) + note("F5", 5)));
  EXPECT_EQ(melody(reading.score), "0 D5 1, 1 E5 1/2, 3/2 F5 5/2");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Rhythm, DivisionsMayChangeInsideABar) {
  const Reading reading =
      read(one_bar(note("D5", 2) + divisions("8") + note("E5", 8) + note("F5", 16)));
  EXPECT_EQ(melody(reading.score), "0 D5 1, 1 E5 1, 2 F5 2");
  EXPECT_EQ(lengths(reading.score), "4");
}

TEST(Rhythm, DivisionsMayBeDecimal) {
  const Reading reading = read(one_bar(divisions("0.5") + note("D5", 1) + note("E5", 1)));
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 E5 2");
}

TEST(Rhythm, DurationDecidesAgainstType) {
  const Reading reading = read(one_bar(note("D5", 4, type("quarter")) + note("E5", 4)));
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 E5 2");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Rhythm, MissingDivisionsFollowFromTheFirstTypedNote) {
  const Reading reading = read(one_part(measure(
      "1", "<attributes><time><beats>2</beats><beat-type>4</beat-type></time></attributes>" +
               note("D5", 12, type("eighth")) + note("E5", 36, type("quarter")))));
  EXPECT_EQ(melody(reading.score), "0 D5 1/2, 1/2 E5 3/2");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning odd-duration: 1 duration comes before any divisions, which are "
                          "guessed: bar 1"));
}

TEST(Rhythm, MissingDivisionsWithoutATypeAreOne) {
  const Reading reading = read(one_part(measure(
      "1", "<attributes><time><beats>2</beats><beat-type>4</beat-type></time></attributes>" +
               note("D5", 1) + note("E5", 1))));
  EXPECT_EQ(melody(reading.score), "0 D5 1, 1 E5 1");
}

TEST(Rhythm, UselessDivisionsKeepTheOldOnes) {
  for (const char* value : {"0", "-4", "many", ""}) {
    const Reading reading = read(one_bar(divisions(value) + note("D5", 8)));
    EXPECT_EQ(melody(reading.score), "0 D5 4") << value;
    const std::string named = *value == 0 ? "" : " (" + std::string(value) + ")";
    EXPECT_THAT(reading.remarks, ElementsAre("warning odd-duration: 1 value of divisions cannot be "
                                             "used" +
                                             named + ": bar 1"));
  }
}

TEST(Rhythm, RoundedTupletsSnapToTheirExactValue) {
  // A seventh of a half note in 480 divisions is 137.14: the exporter wrote 137, and 138 once.
  std::string bar = attributes(480, "2/4");
  for (int i = 0; i < 7; ++i) {
    bar += note("D5", i == 6 ? 138 : 137, type("eighth") + ratio(7, 4));
  }
  const Reading reading = read(one_part(measure("1", bar)));
  EXPECT_EQ(melody(reading.score),
            "0 D5 2/7, 2/7 D5 2/7, 4/7 D5 2/7, 6/7 D5 2/7, 8/7 D5 2/7, 10/7 D5 2/7, 12/7 D5 2/7");
  EXPECT_EQ(lengths(reading.score), "2");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Rhythm, AWholeDivisionOffIsNoRounding) {
  const Reading reading = read(one_part(
      measure("1", attributes(480, "1/4") + note("D5", 161, type("eighth") + ratio(3, 2)))));
  EXPECT_EQ(melody(reading.score), "0 D5 161/480");
}

// The second voice after a quarter note, seven eighths in the time of four in 480 divisions, and a
// backup.
Reading second_voice_after_rounded_notes(int back, int duration) {
  std::string bar = attributes(480, "3/4") + note("E5", 480, "<voice>1</voice>" + type("quarter"));
  for (int i = 0; i < 7; ++i) {
    bar += note("D5", 137, "<voice>1</voice>" + type("eighth") + ratio(7, 4));
  }
  bar += backup(back) + note("C4", duration, "<voice>2</voice>");
  MusicXmlReadOptions second;
  second.voice = "2";
  return read(one_part(measure("1", bar)), second);
}

// Seven times 137 are 959: an exporter that adds up what it has written is a division short of the
// two quarters that the notes last.
TEST(Rhythm, BackupOverRoundedNotesFindsTheOnsetThatIsMeant) {
  const Reading to_the_start = second_voice_after_rounded_notes(480 + 959, 1440);
  EXPECT_EQ(melody(to_the_start.score), "0 C4 3");
  EXPECT_EQ(lengths(to_the_start.score), "3");
  const Reading to_the_second = second_voice_after_rounded_notes(959, 960);
  EXPECT_EQ(melody(to_the_second.score), "1 C4 2");
  EXPECT_EQ(lengths(to_the_second.score), "3");
}

// Seven rounded notes cannot lead eight divisions astray.
TEST(Rhythm, BackupFartherThanRoundingLeadsIsTakenAsItStands) {
  EXPECT_EQ(melody(second_voice_after_rounded_notes(960 - 8, 952).score), "61/60 C4 119/60");
}

TEST(Rhythm, NestedTupletsTakeTheProductOfTheirRatios) {
  // Three eighths in the time of two, the middle one parted into five sixteenths for four.
  std::string bar = attributes(30, "1/4") + note("D5", 10, type("eighth") + ratio(3, 2));
  for (int i = 0; i < 5; ++i) bar += note("E5", 2, type("32nd") + ratio(15, 8));
  bar += note("F5", 10, type("eighth") + ratio(3, 2));
  const Reading reading = read(one_part(measure("1", bar)));
  EXPECT_EQ(melody(reading.score),
            "0 D5 1/3, 1/3 E5 1/15, 2/5 E5 1/15, 7/15 E5 1/15, 8/15 E5 1/15, 3/5 E5 1/15, "
            "2/3 F5 1/3");
}

TEST(Rhythm, ANoteWithoutUsableDurationLastsWhatItsTypeSays) {
  const std::string pitch = "<pitch><step>E</step><octave>5</octave></pitch>";
  for (const std::string& duration : {std::string(), std::string("0"), std::string("-1"),
                                      std::string("1e9"), std::string("long")}) {
    const std::string element =
        duration.empty() ? duration : "<duration>" + duration + "</duration>";
    const Reading reading = read(
        one_bar(note("D5", 2) + "<note>" + pitch + element + "<type>half</type><dot/></note>"));
    EXPECT_EQ(melody(reading.score), "0 D5 1, 1 E5 3") << duration;
    const std::string named = duration.empty() ? duration : " (" + duration + ")";
    EXPECT_THAT(reading.remarks,
                ElementsAre("warning odd-duration: 1 note without a usable duration lasts what its "
                            "type says" +
                            named + ": bar 1"));
  }
}

TEST(Rhythm, ANoteWithoutAnyLengthIsLeftOutAndTold) {
  const Reading reading =
      read(one_bar("<note><pitch><step>E</step><octave>5</octave></pitch></note>" + note("D5", 8)));
  EXPECT_EQ(melody(reading.score), "0 D5 4");
  EXPECT_THAT(reading.remarks, ElementsAre("warning odd-duration: 1 note without a usable "
                                           "duration or type is left out: bar 1"));
  const std::string e = "<pitch><step>E</step><octave>5</octave></pitch>";
  EXPECT_THAT(read(one_bar("<note>" + e + "<duration>-1</duration></note><note>" + e +
                           "<duration>1e9</duration></note>" + note("D5", 8)))
                  .remarks,
              ElementsAre("warning odd-duration: 2 notes without a usable duration or type are "
                          "left out (-1, 1e9): bar 1"));
}

TEST(Rhythm, ForwardIsARest) {
  const Reading reading = read(one_bar(note("D5", 2) + forward(4) + note("E5", 2)));
  EXPECT_EQ(melody(reading.score), "0 D5 1, 3 E5 1");
  EXPECT_EQ(lengths(reading.score), "4");
}

TEST(Rhythm, AForwardAtTheEndFillsTheBar) {
  const Reading reading = read(one_bar(note("D5", 2) + forward(6)));
  EXPECT_EQ(lengths(reading.score), "4");
}

TEST(Rhythm, ABackupPastTheStartStopsThere) {
  const Reading reading = read(
      one_bar(note("D5", 8, "<voice>1</voice>") + backup(12) + note("C4", 4, "<voice>2</voice>")));
  EXPECT_EQ(melody(reading.score), "0 D5 4");
  EXPECT_EQ(reading.remarks.back(),
            "warning odd-position: 1 backup leads to before its bar: bar 1");
}

TEST(Rhythm, ABackupMayHaveItsNumberAsText) {
  const Reading reading = read(one_bar(note("D5", 8, "<voice>1</voice>") + "<backup>8</backup>" +
                                       note("C4", 8, "<voice>2</voice>")));
  EXPECT_EQ(lengths(reading.score), "4");
  EXPECT_EQ(reading.remarks.back(),
            "warning odd-position: 1 backup or forward has its number without a duration element: "
            "bar 1");
}

TEST(Rhythm, AMoveWithoutANumberStaysWhereItIs) {
  const Reading reading =
      read(one_bar(note("D5", 4) + "<backup><duration>x</duration></backup>" + note("E5", 4)));
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 E5 2");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning odd-position: 1 backup or forward has no usable "
                          "duration (x): bar 1"));
}

TEST(Rhythm, OverlappingNotesOfOneVoiceAreCut) {
  const Reading reading = read(one_bar(note("D5", 8) + backup(4) + note("E5", 4)));
  EXPECT_EQ(melody(reading.score), "0 D5 2, 2 E5 2");
  EXPECT_THAT(reading.remarks, ElementsAre("warning overlapping-notes: 1 note cut short where the "
                                           "next one of its voice begins: bar 1"));
}

TEST(Rhythm, TremoloNotesAreStruckOnce) {
  const Reading reading = read(one_bar(
      note("D5", 8,
           "<notations><ornaments><tremolo type=\"single\">3</tremolo></ornaments></notations>")));
  EXPECT_EQ(melody(reading.score), "0 D5 4");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning left-out: 1 mark on a note left out (tremolo): bar 1"));
}

TEST(Rhythm, CueNotesAreLeftOutAndLeaveTheirTime) {
  const Reading reading = read(one_bar(note_with("<cue/>", "A5", 4) + note("D5", 4)));
  EXPECT_EQ(melody(reading.score), "2 D5 2");
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 cue note left out: bar 1"));
}

TEST(Bars, APickupNeedsNoMark) {
  for (const char* number : {"0", "0\" implicit=\"yes", "1"}) {
    const Reading reading = read(one_part(measure(number, attributes(1, "4/4") + note("D5", 1)) +
                                          measure("1", note("E5", 4))));
    EXPECT_EQ(lengths(reading.score), "1 4");
    EXPECT_EQ(melody(reading.score), "0 D5 1 | 0 E5 4");
    EXPECT_THAT(reading.remarks, IsEmpty());
  }
}

TEST(Bars, AShortBarInTheMiddleIsIrregular) {
  const Reading reading = read(one_part(measure("1", attributes(1, "4/4") + note("D5", 4)) +
                                        measure("2", note("E5", 3)) + measure("3", note("F5", 4))));
  EXPECT_EQ(lengths(reading.score), "4 3! 4");
  EXPECT_THAT(reading.remarks,
              ElementsAre("warning uneven-bar: 1 bar does not fill its meter (3 of 4 "
                          "quarters): bar 2"));
}

// MusicXML: an implicit measure is no whole one and is not counted.
TEST(Bars, AShortBarThatTheFileCallsImplicitIsMeantSo) {
  const Reading reading =
      read(one_part(measure("1", attributes(1, "4/4") + note("D5", 4)) +
                    measure("X1\" implicit=\"yes", note("E5", 3)) + measure("2", note("F5", 4))));
  EXPECT_EQ(lengths(reading.score), "4 3! 4");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Bars, AShortBarBeforeARepeatSignIsNotIfTheNextCompletesIt) {
  const std::string end = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
  const Reading reading = read(one_part(measure("1", attributes(1, "4/4") + note("D5", 4)) +
                                        measure("2", note("E5", 3) + end) +
                                        measure("3", note("F5", 1)) + measure("4", note("F5", 4))));
  EXPECT_EQ(lengths(reading.score), "4 3 1 4");
  const Reading alone =
      read(one_part(measure("1", attributes(1, "4/4") + note("D5", 4)) +
                    measure("2", note("E5", 3) + end) + measure("3", note("F5", 4))));
  EXPECT_EQ(lengths(alone.score), "4 3! 4");
}

TEST(Bars, ALongBarIsIrregular) {
  const Reading reading = read(
      one_part(measure("1", attributes(1, "4/4") + note("D5", 5)) + measure("2", note("E5", 4))));
  EXPECT_EQ(lengths(reading.score), "5! 4");
}

TEST(Bars, AnEmptyBarLastsItsMeter) {
  const Reading reading =
      read(one_part(measure("1", attributes(1, "3/4") + note("D5", 3)) + measure("2", "")));
  EXPECT_EQ(lengths(reading.score), "3 3");
}

TEST(Bars, RestsForTheWholeBarTakeItsLength) {
  const std::string whole = "<note><rest measure=\"yes\"/><duration>4</duration></note>";
  const Reading reading =
      read(one_part(measure("1", attributes(1, "3/4") + whole) +
                    measure("2", rest(4, type("whole"))) + measure("3", rest(3))));
  EXPECT_EQ(lengths(reading.score), "3 3 3");
}

TEST(Bars, ARestForTheWholeBarInAPickupLastsWhatItSays) {
  const std::string whole = "<note><rest measure=\"yes\"/><duration>1</duration></note>";
  const Reading reading =
      read(one_part(measure("0", attributes(1, "4/4") + whole) + measure("1", note("D5", 4))));
  EXPECT_EQ(lengths(reading.score), "1 4");
}

TEST(Bars, AnotherPartShowsHowLongAPickupIs) {
  // The flute has a whole rest of four quarters in a pickup that the drum fills with one.
  const std::string flute =
      measure("0",
              attributes(1, "4/4") + "<note><rest measure=\"yes\"/><duration>4</duration></note>") +
      measure("1", note("D5", 4));
  const std::string drum =
      measure("0", attributes(1, "4/4") + "<note><unpitched/><duration>1</duration></note>") +
      measure("1", "<note><unpitched/><duration>4</duration></note>");
  const Reading reading =
      read(document("<part id=\"A\">" + flute + "</part><part id=\"B\">" + drum + "</part>"));
  EXPECT_EQ(lengths(reading.score), "1 4");
}

TEST(Bars, AnotherVoiceCompletesABar) {
  const Reading reading =
      read(one_bar(note("D5", 2, "<voice>1</voice>") + note("E5", 2, "<voice>1</voice>") +
                   backup(4) + note("C4", 8, "<voice>2</voice>")));
  EXPECT_EQ(melody(reading.score), "0 D5 1, 1 E5 1");
  EXPECT_EQ(lengths(reading.score), "4");
}

TEST(Bars, ALongVoiceBesideTheMelodyDoesNotMakeTheBarLong) {
  MusicXmlReadOptions first;
  first.voice = "1";
  const Reading reading = read(
      one_bar(note("D5", 8, "<voice>1</voice>") + backup(8) + note("C4", 10, "<voice>2</voice>")),
      first);
  EXPECT_EQ(lengths(reading.score), "4");
}

TEST(Bars, MultiBarRestsAreBarsOfTheirOwn) {
  const std::string sign =
      "<attributes><measure-style><multiple-rest>2</multiple-rest></measure-style></attributes>";
  const Reading reading = read(one_part(measure("1", attributes(1, "4/4") + note("D5", 4)) +
                                        measure("2", sign + rest(4)) + measure("3", rest(4)) +
                                        measure("4", note("E5", 4))));
  EXPECT_EQ(melody(reading.score), "0 D5 4 |  |  | 0 E5 4");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Bars, SenzaMisuraIsFreeTime) {
  const Reading reading = read(one_part(
      measure("1", "<attributes><divisions>1</divisions><time><senza-misura/></time></attributes>" +
                       note("D5", 7)) +
      measure("2", "") + measure("3", note("E5", 1))));
  EXPECT_TRUE(reading.score.measures[0].meter.is_free());
  EXPECT_EQ(lengths(reading.score), "7 0 1");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Bars, WithoutAMeterTimeIsFreeAndThatIsTold) {
  const Reading reading =
      read(one_part(measure("1", divisions("1") + note("D5", 5)) + measure("2", note("E5", 2))));
  EXPECT_EQ(lengths(reading.score), "5 2");
  EXPECT_THAT(reading.remarks,
              ElementsAre("note no-meter: the file has no meter and is read in free time"));
}

TEST(Bars, MetersOfSeveralPartsAddUp) {
  const Reading sum = read(one_part(measure("1", attributes(2, "3+2/8") + note("D5", 5))));
  EXPECT_EQ(sum.score.measures[0].meter, (model::Meter{5, 8}));
  EXPECT_THAT(sum.remarks, ElementsAre("warning left-out: 1 meter of several parts read as their "
                                       "sum: bar 1"));
  const Reading mixed = read(
      one_part(measure("1",
                       "<attributes><divisions>2</divisions><time><beats>2</beats><beat-type>4"
                       "</beat-type><beats>3</beats><beat-type>8</beat-type></time></attributes>" +
                           note("D5", 7))));
  EXPECT_EQ(mixed.score.measures[0].meter, (model::Meter{7, 8}));
  EXPECT_EQ(lengths(mixed.score), "7/2");
}

TEST(Bars, AnUnreadableMeterIsToldAndTheOldOneStays) {
  const Reading reading = read(one_part(measure("1", attributes(1, "4/4") + note("D5", 4)) +
                                        measure("2", attributes(1, "5/3") + note("E5", 4))));
  EXPECT_EQ(reading.score.measures[1].meter, (model::Meter{4, 4}));
  EXPECT_THAT(reading.remarks, ElementsAre("warning unknown-value: 1 meter cannot be read: bar 2"));
}

TEST(Bars, AMeterInsideABarCountsFromTheNext) {
  const Reading reading = read(one_part(
      measure("1", attributes(1, "4/4") + note("D5", 2) + attributes(1, "3/4") + note("E5", 2)) +
      measure("2", note("F5", 3))));
  EXPECT_EQ(lengths(reading.score), "4 3");
  EXPECT_THAT(reading.remarks, ElementsAre("warning misplaced-sign: 1 meter inside a bar counts "
                                           "from the next bar on: bar 1"));
}

TEST(Bars, AMeterAfterTheLastNoteIsTheNextBars) {
  const Reading reading =
      read(one_part(measure("1", attributes(1, "4/4") + note("D5", 4) + attributes(1, "3/4")) +
                    measure("2", note("F5", 3))));
  EXPECT_EQ(lengths(reading.score), "4 3");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Bars, KeepTheirPrintedNumbers) {
  const Reading reading =
      read(one_part(measure("7", attributes(1, "4/4") + note("D5", 4)) +
                    measure("X1", note("E5", 4)) + "<measure>" + note("F5", 4) + "</measure>"));
  EXPECT_EQ(reading.score.measures[0].number, "7");
  EXPECT_EQ(reading.score.measures[1].number, "X1");
  EXPECT_EQ(reading.score.measures[2].number, "3");
}

TEST(Bars, SystemAndPageBreaksAreLineBreaks) {
  const Reading reading =
      read(one_part(measure("1", attributes(1, "4/4") + note("D5", 4)) +
                    measure("2", "<print new-system=\"yes\"/>" + note("E5", 4)) +
                    measure("3", "<print new-page=\"yes\"/>" + note("F5", 4)) +
                    measure("4", "<print/>" + note("G5", 4))));
  EXPECT_EQ(reading.score.measures[1].break_before, model::LineBreak::system);
  EXPECT_EQ(reading.score.measures[2].break_before, model::LineBreak::system);
  EXPECT_EQ(reading.score.measures[3].break_before, model::LineBreak::none);
}

}  // namespace
}  // namespace yubifu::musicxml
