// Note-ons and note-offs: what ends which note.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/read/notes.h"
#include "midi/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// 96 ticks a quarter note: 60 is a quarter note, 30 an eighth.
model::Score read_track(std::string_view digits) {
  return read_sound(one_track(digits));
}

std::vector<std::string> told_of(std::string_view digits) {
  return told(read_messages(one_track(digits)));
}

TEST(Pairing, TakesVelocityZeroForANoteOff) {
  EXPECT_THAT(note_words(read_track("00 90 3C 50 60 90 3C 00 00 90 3E 50 30 90 3E 00 00 FF 2F 00")),
              ElementsAre("60 at 0 for 1", "62 at 1 for 1/2"));
}

TEST(Pairing, TakesAnyReleaseVelocity) {
  EXPECT_THAT(note_words(read_track("00 90 3C 50 60 80 3C 00 00 90 3E 50 60 80 3E 7F 00 FF 2F 00")),
              ElementsAre("60 at 0 for 1", "62 at 1 for 1"));
}

// The note-off stands first, as it should.
TEST(Pairing, StrikesANoteAnewOnOneTick) {
  constexpr std::string_view kBytes = "00 90 3C 50 60 80 3C 40 00 90 3C 50 60 80 3C 40 00 FF 2F 00";
  EXPECT_THAT(note_words(read_track(kBytes)), ElementsAre("60 at 0 for 1", "60 at 1 for 1"));
  EXPECT_THAT(told_of(kBytes), IsEmpty());
}

// The note-on stands first: the note-off behind it ends the older note.
TEST(Pairing, StrikesANoteAnewWithTheNoteOnFirst) {
  constexpr std::string_view kBytes = "00 90 3C 50 60 90 3C 50 00 80 3C 40 60 80 3C 40 00 FF 2F 00";
  EXPECT_THAT(note_words(read_track(kBytes)), ElementsAre("60 at 0 for 1", "60 at 1 for 1"));
  EXPECT_THAT(told_of(kBytes), IsEmpty());
}

// Note-ons at 0 and 1 quarter, note-offs at 2 and 3: the first note ends at 2, and is cut at 1.
TEST(Pairing, EndsTheOldestOfOverlappingNotesFirst) {
  const std::vector<ChannelEvent> events{
      {0, 0, 0x90, 60, 80}, {96, 0, 0x90, 60, 80}, {192, 0, 0x80, 60, 64}, {288, 0, 0x80, 60, 64}};
  const std::vector<PairedNote> notes = pair_notes(events, {288});
  ASSERT_EQ(notes.size(), 2U);
  EXPECT_EQ(notes[0].end, 192);
  EXPECT_EQ(notes[1].end, 288);
  constexpr std::string_view kBytes = "00 90 3C 50 60 90 3C 50 60 80 3C 40 60 80 3C 40 00 FF 2F 00";
  EXPECT_THAT(note_words(read_track(kBytes)), ElementsAre("60 at 0 for 1", "60 at 1 for 2"));
  EXPECT_THAT(told_of(kBytes), ElementsAre("note overlap-cut in bar 1"));
}

TEST(Pairing, KeepsChannelsAndKeysApart) {
  const std::vector<ChannelEvent> events{{0, 0, 0x90, 60, 80},   {0, 0, 0x91, 60, 80},
                                         {0, 0, 0x90, 61, 80},   {96, 0, 0x81, 60, 64},
                                         {192, 0, 0x80, 61, 64}, {288, 0, 0x80, 60, 64}};
  const std::vector<PairedNote> notes = pair_notes(events, {288});
  ASSERT_EQ(notes.size(), 3U);
  EXPECT_EQ(notes[0].end, 288);
  EXPECT_EQ(notes[1].end, 96);
  EXPECT_EQ(notes[2].end, 192);
}

TEST(Pairing, KeepsTracksApart) {
  const std::vector<ChannelEvent> events{
      {0, 0, 0x90, 60, 80}, {48, 1, 0x90, 60, 80}, {96, 1, 0x80, 60, 64}};
  const std::vector<PairedNote> notes = pair_notes(events, {192, 96});
  ASSERT_EQ(notes.size(), 2U);
  EXPECT_EQ(notes[0].end, 192);
  EXPECT_EQ(notes[0].ended_by, NoteEnd::track_over);
  EXPECT_EQ(notes[1].end, 96);
  EXPECT_EQ(notes[1].ended_by, NoteEnd::released);
}

TEST(Pairing, IgnoresANoteOffWithoutNote) {
  constexpr std::string_view kBytes = "00 80 3C 40 00 90 3C 50 60 80 3C 40 60 80 3C 40 00 FF 2F 00";
  EXPECT_THAT(note_words(read_track(kBytes)), ElementsAre("60 at 0 for 1"));
  EXPECT_THAT(told_of(kBytes), IsEmpty());
}

// Controllers 120 (all sound off) and 123 to 127 (all notes off and the modes) end what sounds on
// their channel (MIDI 1.0, channel mode messages).
class Silenced : public testing::TestWithParam<int> {};

TEST_P(Silenced, ByAChannelModeMessage) {
  const std::vector<ChannelEvent> events{{0, 0, 0x90, 60, 80},
                                         {0, 0, 0x91, 60, 80},
                                         {96, 0, 0xB0, static_cast<std::uint8_t>(GetParam()), 0},
                                         {192, 0, 0x81, 60, 64}};
  const std::vector<PairedNote> notes = pair_notes(events, {288});
  ASSERT_EQ(notes.size(), 2U);
  EXPECT_EQ(notes[0].end, 96);
  EXPECT_EQ(notes[0].ended_by, NoteEnd::released);
  EXPECT_EQ(notes[1].end, 192);
}

INSTANTIATE_TEST_SUITE_P(Pairing, Silenced, testing::Values(120, 123, 124, 125, 126, 127));

TEST(Pairing, LetsNotesSoundOnThroughOtherControllers) {
  constexpr std::string_view kBytes = "00 90 3C 50 30 B0 79 00 00 B0 40 7F 30 80 3C 40 00 FF 2F 00";
  EXPECT_THAT(note_words(read_track(kBytes)), ElementsAre("60 at 0 for 1"));
}

// A quarter of a quarter note, or less where the next note begins sooner.
TEST(Pairing, GivesALengthToANoteWithoutOne) {
  constexpr std::string_view kBytes =
      "00 90 3C 50 00 80 3C 40 60 90 3E 50 00 80 3E 40 0C 90 40 50 60 80 40 40 00 FF 2F 00";
  EXPECT_THAT(note_words(read_track(kBytes)),
              ElementsAre("60 at 0 for 1/4", "62 at 1 for 1/8", "64 at 9/8 for 1"));
  EXPECT_THAT(told_of(kBytes), ElementsAre("warning no-length in bar 1", "note deep-rhythm"));
}

TEST(Pairing, ClosesAnOpenNoteWhereItsTrackEnds) {
  constexpr std::string_view kBytes = "00 90 3C 50 60 90 3E 50 60 80 3E 40 60 FF 2F 00";
  EXPECT_THAT(note_words(read_track(kBytes)), ElementsAre("60 at 0 for 1", "62 at 1 for 1"));
  const auto found = read_messages(one_track(kBytes));
  EXPECT_EQ(message_of(found, rule::open_note),
            "bar 1: a note is never ended: it ends where its track does");
}

}  // namespace
}  // namespace yubifu::midi
