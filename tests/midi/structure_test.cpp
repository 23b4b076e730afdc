// The bytes of a MIDI file: what is refused, what is repaired, and where it is said to be. In the
// files below the first track chunk begins at byte 14 and its first event at byte 22.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/rules.h"
#include "midi/smf/scan.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using Words = std::vector<std::string>;

const std::string kHeader = "4D546864 00000006 0000 0001 0060 ";  // format 0, 96 ticks
const std::string kTrack = "4D54726B ";
const std::string kStructureNote = "00 90 3C 50 60 80 3C 40 ";  // C4 for a quarter note, 8 bytes
const std::string kStructureEnd = "00 FF 2F 00 ";
const Words kQuarterC{"60 at 0 for 1"};

// The head of a track chunk for so many bytes.
std::string track_head(std::size_t bytes) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string digits;
  for (int shift = 28; shift >= 0; shift -= 4) digits += kDigits[(bytes >> shift) & 0xF];
  return kTrack + digits + " ";
}

struct Case {
  std::string name;
  std::string file;  // hexadecimal
  Words told;
  Words notes = kQuarterC;
};

// For the messages of GoogleTest.
void PrintTo(const Case& test, std::ostream* out) {
  *out << test.file;
}

std::string name_of(const testing::TestParamInfo<Case>& test) {
  return test.param.name;
}

class Refused : public testing::TestWithParam<Case> {};

TEST_P(Refused, WithTheByteItIsAbout) {
  const auto outcome = read_midi(hex(GetParam().file), {});
  EXPECT_FALSE(outcome.value);
  EXPECT_EQ(told(outcome.diagnostics), GetParam().told);
}

INSTANTIATE_TEST_SUITE_P(
    Structure, Refused,
    testing::Values(
        Case{"NoBytes", "", {"error not-midi at byte 0"}},
        Case{"Text", "7469 746C 653A 2054 6573 740A", {"error not-midi at byte 0"}},
        Case{"HeaderCut", "4D546864 00000006 0000 0001 00", {"error midi-header at byte 13"}},
        Case{"HeaderTooShort",
             "4D546864 00000005 0000 0001 0060 " + track_head(12) + kStructureNote + kStructureEnd,
             {"error midi-header at byte 4"}},
        Case{"HeaderPastTheFile",
             "4D546864 FFFFFFFF 0000 0001 0060",
             {"error midi-header at byte 4"}},
        Case{"FormatTwo",
             "4D546864 00000006 0002 0001 0060 " + track_head(12) + kStructureNote + kStructureEnd,
             {"error midi-format at byte 8"}},
        Case{"FormatThree",
             "4D546864 00000006 0003 0001 0060 " + track_head(12) + kStructureNote + kStructureEnd,
             {"error midi-format at byte 8"}},
        Case{"NoTicks",
             "4D546864 00000006 0000 0001 0000 " + track_head(12) + kStructureNote + kStructureEnd,
             {"error midi-division at byte 12"}},
        Case{"TwentySixFrames",
             "4D546864 00000006 0000 0001 E628 " + track_head(12) + kStructureNote + kStructureEnd,
             {"error midi-division at byte 12"}},
        Case{"FramesWithoutTicks",
             "4D546864 00000006 0000 0001 E700 " + track_head(12) + kStructureNote + kStructureEnd,
             {"error midi-division at byte 12"}},
        Case{"NoTracks", "4D546864 00000006 0001 0000 0060", {"error no-notes at byte 14"}},
        Case{"DataByteFirst",
             kHeader + track_head(7) + "00 3C 50 " + kStructureEnd,
             {"warning damaged-track at byte 23", "error no-notes"}},
        Case{"NoNotes", kHeader + track_head(4) + kStructureEnd, {"error no-notes"}},
        // RIFF without a MIDI file in it; a wave file.
        Case{"RiffWithoutData", "52494646 04000000 524D4944", {"error not-midi at byte 0"}},
        Case{"Wave", "52494646 04000000 57415645", {"error not-midi at byte 0"}}),
    name_of);

TEST(Structure, SaysInWordsWhatFormatTwoIs) {
  const auto outcome = read_midi(
      hex("4D546864 00000006 0002 0001 0060 " + track_head(12) + kStructureNote + kStructureEnd),
      {});
  EXPECT_THAT(message_of(outcome.diagnostics, rule::midi_format),
              HasSubstr("patterns to be played one by one"));
}

class Repaired : public testing::TestWithParam<Case> {};

TEST_P(Repaired, KeepsTheNotesAndTellsTheByte) {
  const std::string file = hex(GetParam().file);
  EXPECT_EQ(note_words(read_sound(file)), GetParam().notes);
  EXPECT_EQ(told(read_messages(file)), GetParam().told);
}

INSTANTIATE_TEST_SUITE_P(
    Chunks, Repaired,
    testing::Values(
        Case{"Sound", kHeader + track_head(12) + kStructureNote + kStructureEnd, {}},
        Case{"LongHeader",
             "4D546864 00000008 0000 0001 0060 ABCD " + track_head(12) + kStructureNote +
                 kStructureEnd,
             {"note long-header at byte 4"}},
        Case{"TrackLongerThanTheFile",
             kHeader + track_head(99) + kStructureNote + kStructureEnd,
             {"warning damaged-track at byte 14"}},
        Case{"TrackLongerThanItIs",
             "4D546864 00000006 0001 0002 0060 " + track_head(24) + kStructureEnd + track_head(12) +
                 kStructureNote + kStructureEnd,
             {"warning damaged-track at byte 26"}},
        // The chunk says 9 bytes and ends inside the End of Track: what is left is no chunk.
        Case{"TrackShorterThanItIs",
             kHeader + track_head(9) + kStructureNote + kStructureEnd,
             {"warning damaged-track at byte 30", "warning stale-bytes at byte 31"}},
        Case{"TrackShorterThanItIsBeforeAnother",
             "4D546864 00000006 0001 0002 0060 " + track_head(9) + kStructureNote + kStructureEnd +
                 track_head(4) + kStructureEnd,
             {"warning damaged-track at byte 30"}},
        Case{"NoEndOfTrack",
             kHeader + track_head(8) + kStructureNote,
             {"warning no-end-of-track at byte 30"}},
        Case{"EmptyTrack",
             "4D546864 00000006 0001 0002 0060 " + track_head(0) + track_head(12) + kStructureNote +
                 kStructureEnd,
             {"warning no-end-of-track at byte 22"}},
        Case{"AfterEndOfTrack",
             kHeader + track_head(20) + kStructureNote + kStructureEnd + kStructureNote,
             {"warning after-end-of-track at byte 34"}},
        Case{
            "ForeignChunkFirst",
            kHeader + "58464948 00000003 010203 " + track_head(12) + kStructureNote + kStructureEnd,
            {"note foreign-chunk at byte 14"}},
        Case{"ForeignChunkBetween",
             "4D546864 00000006 0001 0002 0060 " + track_head(4) + kStructureEnd +
                 "58464948 00000003 010203 " + track_head(12) + kStructureNote + kStructureEnd,
             {"note foreign-chunk at byte 26"}},
        Case{"ForeignChunkLast",
             kHeader + track_head(12) + kStructureNote + kStructureEnd + "58464948 00000003 010203",
             {"note foreign-chunk at byte 34"}},
        Case{"MoreTracksThanDeclared",
             "4D546864 00000006 0001 0001 0060 " + track_head(4) + kStructureEnd + track_head(12) +
                 kStructureNote + kStructureEnd,
             {"warning track-count at byte 10"}},
        Case{"FewerTracksThanDeclared",
             "4D546864 00000006 0001 0003 0060 " + track_head(12) + kStructureNote + kStructureEnd,
             {"warning track-count at byte 10"}},
        Case{"StaleBytes",
             kHeader + track_head(12) + kStructureNote + kStructureEnd + "4F 00 90 3C",
             {"warning stale-bytes at byte 34"}},
        Case{"StaleFile",
             kHeader + track_head(12) + kStructureNote + kStructureEnd + kHeader,
             {"warning stale-bytes at byte 34"}},
        // A track that ends inside its head is none.
        Case{"TrackHeadCut",
             "4D546864 00000006 0001 0002 0060 " + track_head(12) + kStructureNote + kStructureEnd +
                 "4D54726B 0000",
             {"warning stale-bytes at byte 34", "warning track-count at byte 10"}},
        Case{"BytesBetweenTracks",
             "4D546864 00000006 0001 0002 0060 " + track_head(4) + kStructureEnd + "00 00 00 " +
                 track_head(12) + kStructureNote + kStructureEnd,
             {"warning damaged-track at byte 26"}}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Riff, Repaired,
    testing::Values(
        Case{"Wrapped",
             "52494646 2E000000 524D4944 64617461 22000000 " + kHeader + track_head(12) +
                 kStructureNote + kStructureEnd,
             {"note riff-wrapper at byte 0"}},
        // A chunk of three bytes before the data is padded to four; more stands behind the data.
        Case{"AmongOtherChunks",
             "52494646 46000000 524D4944 49494949 03000000 01020300 64617461 22000000 " + kHeader +
                 track_head(12) + kStructureNote + kStructureEnd + "4C495354 04000000 00000000",
             {"note riff-wrapper at byte 0"}},
        // Bytes are counted from the start of the RIFF file, 20 before the MIDI file's.
        Case{"Damaged",
             "52494646 2A000000 524D4944 64617461 1E000000 " + kHeader + track_head(8) +
                 kStructureNote,
             {"note riff-wrapper at byte 0", "warning no-end-of-track at byte 50"}},
        Case{"DataPastTheFile",
             "52494646 FFFFFFFF 524D4944 64617461 FFFFFFFF " + kHeader + track_head(12) +
                 kStructureNote + kStructureEnd,
             {"note riff-wrapper at byte 0"}}),
    name_of);

// What damage in the middle of a track leaves: everything before it. The note that is open there
// ends at the last time that was read.
INSTANTIATE_TEST_SUITE_P(
    Damage, Repaired,
    testing::Values(
        Case{"CutInsideANote",
             kHeader + track_head(14) + kStructureNote + "00 90 3E 50 60",
             {"warning damaged-track at byte 14", "warning open-note in bar 1",
              "warning no-length in bar 1"},
             {"60 at 0 for 1", "62 at 1 for 1/4"}},
        Case{"CutInsideAnEvent",
             kHeader + track_head(12) + kStructureNote + "60 90 3E",
             {"warning damaged-track at byte 14"}},
        Case{"TimeOfFiveBytes",
             kHeader + track_head(20) + kStructureNote + "81 80 80 80 00 90 3E 50" + kStructureEnd,
             {"warning damaged-track at byte 30"}},
        Case{"TimeWithoutEvent",
             kHeader + track_head(9) + kStructureNote + "60",
             {"warning damaged-track at byte 30"}},
        Case{"StatusInsideAnEvent",
             kHeader + track_head(17) + kStructureNote + "00 90 3E 90 FF FF FF FF FF",
             {"warning damaged-track at byte 33"}},
        Case{"MetaPastTheTrack",
             kHeader + track_head(16) + kStructureNote + "00 FF 01 30 " + kStructureEnd,
             {"warning damaged-track at byte 30"}},
        Case{"MetaWithoutType",
             kHeader + track_head(10) + kStructureNote + "00 FF",
             {"warning damaged-track at byte 30"}},
        Case{"MetaLengthOfFiveBytes",
             kHeader + track_head(20) + kStructureNote + "00 FF 01 80 80 80 80 00 " + kStructureEnd,
             {"warning damaged-track at byte 30"}},
        Case{"ExclusivePastTheTrack",
             kHeader + track_head(15) + kStructureNote + "00 F0 30 " + kStructureEnd,
             {"warning damaged-track at byte 30"}},
        // Open notes are closed where the track is cut, after half a note here.
        Case{"OpenNote",
             kHeader + track_head(8) + "00 90 3C 50 81 40 90 3E",
             {"warning damaged-track at byte 26", "warning open-note in bar 1"},
             {"60 at 0 for 2"}},
        Case{"OpenNoteAtTheEnd",
             kHeader + track_head(9) + "00 90 3C 50 81 40 FF 2F 00",
             {"warning open-note in bar 1"},
             {"60 at 0 for 2"}}),
    name_of);

// A data byte has seven bits. An event with a greater one is left out whole, whatever stands there:
// no byte of it becomes part of another event.
INSTANTIATE_TEST_SUITE_P(
    DataBytes, Repaired,
    testing::Values(
        Case{"Key",
             kHeader + track_head(16) + kStructureNote + "00 90 C8 50 " + kStructureEnd,
             {"warning data-byte at byte 30"}},
        Case{"Velocity",
             kHeader + track_head(16) + kStructureNote + "00 90 3E 90 " + kStructureEnd,
             {"warning data-byte at byte 30"}},
        Case{"ControllerValue",
             kHeader + track_head(16) + "00 B0 07 FF " + kStructureNote + kStructureEnd,
             {"warning data-byte at byte 22"}},
        // F8 may be a clock inside the event or a value of 248: only then the rest makes sense.
        Case{"ControllerValueLikeAClock",
             kHeader + track_head(16) + "00 B0 07 F8 " + kStructureNote + kStructureEnd,
             {"warning data-byte at byte 22"}},
        Case{"BothBytes",
             kHeader + track_head(16) + "00 E0 80 C0 " + kStructureNote + kStructureEnd,
             {"warning data-byte at byte 22"}},
        Case{"Program",
             kHeader + track_head(15) + "00 C0 80 " + kStructureNote + kStructureEnd,
             {"warning data-byte at byte 22"}}),
    name_of);

// What does not belong into a file, or not there.
INSTANTIATE_TEST_SUITE_P(
    Events, Repaired,
    testing::Values(
        Case{"Exclusive",
             kHeader + track_head(19) + "00 F0 04 43 12 00 F7 " + kStructureNote + kStructureEnd,
             {"note exclusive-left-out at byte 22"}},
        Case{"Escape",
             kHeader + track_head(17) + "00 F7 02 F3 01 " + kStructureNote + kStructureEnd,
             {"note exclusive-left-out at byte 22"}},
        Case{"ClockBetweenEvents",
             kHeader + track_head(14) + "00 F8 " + kStructureNote + kStructureEnd,
             {"warning stray-status at byte 22"}},
        Case{"ClockInsideAnEvent",
             kHeader + track_head(13) + "00 90 3C F8 50 60 80 3C 40 " + kStructureEnd,
             {"warning stray-status at byte 25"}},
        // A real-time byte leaves running status as it is (MIDI 1.0).
        Case{"RunningStatusOverAClock",
             kHeader + track_head(13) + "00 90 3C 50 00 FE 60 3C 00 " + kStructureEnd,
             {"warning stray-status at byte 26"}},
        Case{"QuarterFrame",
             kHeader + track_head(15) + "00 F1 30 " + kStructureNote + kStructureEnd,
             {"warning stray-status at byte 22"}},
        Case{"SongPosition",
             kHeader + track_head(16) + "00 F2 30 30 " + kStructureNote + kStructureEnd,
             {"warning stray-status at byte 22"}},
        Case{"Undefined",
             kHeader + track_head(14) + "00 F4 " + kStructureNote + kStructureEnd,
             {"warning stray-status at byte 22"}},
        Case{"TuneRequest",
             kHeader + track_head(14) + "00 F6 " + kStructureNote + kStructureEnd,
             {"warning stray-status at byte 22"}},
        Case{"RunningStatus",
             kHeader + track_head(11) + "00 90 3C 50 60 3C 00 " + kStructureEnd,
             {}},
        Case{"RunningStatusAfterMeta",
             kHeader + track_head(20) + "00 90 3C 50 00 FF 06 01 41 00 FF 01 00 60 3C 00 " +
                 kStructureEnd,
             {"warning running-status at byte 36"}},
        Case{"RunningStatusAfterExclusive",
             kHeader + track_head(15) + "00 90 3C 50 00 F0 01 F7 60 3C 00 " + kStructureEnd,
             {"note exclusive-left-out at byte 26", "warning running-status at byte 31"}},
        Case{"RunningStatusAfterCommonMessage",
             kHeader + track_head(13) + "00 90 3C 50 00 F6 60 3C 00 " + kStructureEnd,
             {"warning stray-status at byte 26", "warning running-status at byte 29"}},
        Case{"TempoOfZero",
             kHeader + track_head(19) + "00 FF 51 03 00 00 00 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"TempoOfTwoBytes",
             kHeader + track_head(18) + "00 FF 51 02 07 A1 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"MeterOfNoBeats",
             kHeader + track_head(20) + "00 FF 58 04 00 02 18 08 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"MeterOfManyBeats",
             kHeader + track_head(20) + "00 FF 58 04 41 02 18 08 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"MeterOfATinyUnit",
             kHeader + track_head(20) + "00 FF 58 04 04 08 18 08 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"MeterOfTwoBytes",
             kHeader + track_head(18) + "00 FF 58 02 04 02 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"KeyOfEightSharps",
             kHeader + track_head(18) + "00 FF 59 02 08 00 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"KeyOfEightFlats",
             kHeader + track_head(18) + "00 FF 59 02 F8 00 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"KeyOfNoMode",
             kHeader + track_head(18) + "00 FF 59 02 00 02 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"KeyOfOneByte",
             kHeader + track_head(17) + "00 FF 59 01 00 " + kStructureNote + kStructureEnd,
             {"warning bad-meta at byte 22"}},
        Case{"UnknownMeta",
             kHeader + track_head(17) + "00 FF 7E 01 00 " + kStructureNote + kStructureEnd,
             {}}),
    name_of);

TEST(Structure, CountsRepairsOfOneKindInOneMessage) {
  const auto found = read_messages(
      hex(kHeader + track_head(18) + "00 F8 00 F8 00 FA " + kStructureNote + kStructureEnd));
  EXPECT_THAT(told(found), ElementsAre("warning stray-status at byte 22"));
  EXPECT_EQ(found.front().message,
            "at byte 22: the byte F8 does not belong into a file and is left out (and 2 more like "
            "it)");
}

TEST(Structure, ReadsALongTextAndWhatFollowsIt) {
  const std::string title(200, 'a');
  const std::string track = hex("00 FF 03 81 48") + title + hex(kStructureNote + kStructureEnd);
  const model::Score score = read_sound(midi_file(0, 96, {track}));
  EXPECT_EQ(score.header.title, title);
  EXPECT_EQ(note_words(score), kQuarterC);
  EXPECT_THAT(told(read_messages(midi_file(0, 96, {track}))), IsEmpty());
}

TEST(Structure, ReadsEveryTrackOfAFileThatCallsItselfFormatZero) {
  const std::string second = hex("00 91 48 50 60 81 48 40 " + kStructureEnd);
  const std::string file = midi_file(0, 96, {hex(kStructureNote + kStructureEnd), second});
  MidiReadOptions options;
  options.track = 2;
  EXPECT_THAT(note_words(read_sound(file, options)), ElementsAre("72 at 0 for 1"));
}

// Times that together pass 31 bits, which the library behind the scan cannot count.
TEST(Structure, EndsATrackWhoseTimesAddUpToTooMuch) {
  std::string track = hex(kStructureNote);
  for (int i = 0; i < 9; ++i) track += hex("FF FF FF 7F 90 48 00 ");
  const std::string file = midi_file(0, 32767, {track + hex(kStructureEnd)});
  EXPECT_THAT(told(read_messages(file)),
              ElementsAre("warning time-limit at byte 79", "note quantised"));
}

// At 96 ticks a quarter note, 400,000 quarter notes are 38,400,000 ticks: 92 A7 E0 00.
TEST(Structure, EndsATrackAtATimeOfDays) {
  const std::string just = hex(kStructureNote + "92 A7 DF 20 90 48 00 " + kStructureEnd);
  EXPECT_THAT(told(read_messages(midi_file(0, 96, {just}))), IsEmpty());
  const std::string over = hex(kStructureNote + "92 A7 DF 21 90 48 00 " + kStructureEnd);
  EXPECT_THAT(told(read_messages(midi_file(0, 96, {over}))),
              ElementsAre("warning time-limit at byte 30"));
}

// The longest time of four bytes that there is, FF FF FF 7F, is sound but longer than any music.
TEST(Structure, NamesTheLimitThatATimeOfFourBytesPasses) {
  const auto found = read_messages(midi_file(
      0, 96, {hex(kStructureNote + "FF FF FF 7F 90 48 50 60 80 48 40 " + kStructureEnd)}));
  EXPECT_THAT(told(found), ElementsAre("warning time-limit at byte 30"));
  EXPECT_EQ(message_of(found, rule::time_limit),
            "at byte 30: track 1 ends here: 268435455 ticks more would pass the limit of 38400000 "
            "ticks, 400000 quarter notes");
}

TEST(Structure, RefusesMoreTracksThanAnyMusicHas) {
  const std::vector<std::string> most(kMostTracks, hex(kStructureNote + kStructureEnd));
  EXPECT_TRUE(read_midi(midi_file(1, 96, most), {}).ok());
  const std::vector<std::string> more(kMostTracks + 1, hex(kStructureNote + kStructureEnd));
  const auto refused = read_midi(midi_file(1, 96, more), {});
  EXPECT_FALSE(refused.value);
  // Each of the 4096 tracks before it has 20 bytes.
  EXPECT_THAT(told(refused.diagnostics), ElementsAre("error midi-too-large at byte 81934"));
}

TEST(Structure, RefusesMoreEventsThanAnyMusicHas) {
  std::string track;
  for (std::size_t i = 0; i <= kMostEvents; i += 2) track += hex("00 90 3C 50 01 3C 00");
  const auto refused = read_midi(midi_file(0, 96, {track}), {});
  EXPECT_FALSE(refused.value);
  EXPECT_THAT(told(refused.diagnostics).back(), testing::StartsWith("error midi-too-large"));
}

TEST(Structure, GivesTheLibraryOnlyWholeTracksOfChannelMessages) {
  const auto scanned = scan(hex("4D546864 00000006 0000 0003 0060 " + track_head(18) +
                                "00 FF 03 01 41 00 90 3C 50 60 3C 00 00 F8 00 F8 00 F8 "
                                "58464948 00000000"));
  ASSERT_TRUE(scanned.value);
  EXPECT_EQ(scanned.value->clean, hex("4D546864 00000006 0001 0001 0060 " + track_head(12) +
                                      "00 90 3C 50 60 90 3C 00 " + kStructureEnd));
}

}  // namespace
}  // namespace yubifu::midi
