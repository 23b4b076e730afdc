// Pitch bends: what they make of the notes.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/read/notes.h"
#include "midi/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr int kBendTicks = 96;

// The wheel value for so many cents in a range of two semitones: 8192 steps are 200 cents, of which
// the upper side has one step less (MIDI 1.0: 14 bits).
std::string bend(double cents) {
  const auto steps = static_cast<int>(std::lround(cents / 200 * kBendCentre));
  return bend_message(0, std::min(kBendCentre + steps, 0x3FFF));
}

std::string control(int controller, int value) {
  return message(kController, 0, controller, value);
}

std::string bend_track(const TrackBytes& track) {
  return midi_file(0, kBendTicks, {track.bytes()});
}

// Sets RPN 0, `fine` to a parameter other than the bend range.
void choose(TrackBytes& track, int fine, int semitones, int cents) {
  track.event(0, control(kRpnCoarse, 0)).event(0, control(kRpnFine, fine));
  track.event(0, control(kDataEntry, semitones)).event(0, control(kDataEntryFine, cents));
}

TEST(Bend, IsOfTwoSemitonesWithoutAWord) {
  // E0 00 50: 14 bits of 0x2800, a quarter of the way up from the centre 0x2000.
  const auto file = one_track("00 E0 00 50 00 90 3C 50 60 80 3C 40 00 FF 2F 00");
  EXPECT_THAT(note_words(read_sound(file)), ElementsAre("60+50 at 0 for 1"));
  EXPECT_THAT(told(read_messages(file)), IsEmpty());
}

TEST(Bend, StandsDuringANote) {
  TrackBytes track;
  track.note(0, kBendTicks, 72)
      .note(kBendTicks, 2 * kBendTicks, 74)
      .note(2 * kBendTicks, 3 * kBendTicks, 76);
  track.event(0, bend(-20)).event(kBendTicks, bend(15)).event(2 * kBendTicks, bend(0));
  EXPECT_THAT(note_words(read_sound(bend_track(track))),
              ElementsAre("72-20 at 0 for 1", "74+15 at 1 for 1", "76 at 2 for 1"));
  EXPECT_THAT(told(read_messages(bend_track(track))), IsEmpty());
}

TEST(Bend, ReachesAnotherKey) {
  TrackBytes track;
  track.note(0, kBendTicks, 72).event(0, bend(130));
  EXPECT_THAT(note_words(read_sound(bend_track(track))), ElementsAre("73+30 at 0 for 1"));
}

// RPN 0 of 12 semitones: half of the way up is 600 cents; of 1 semitone and 50 cents, 75.
TEST(Bend, HasTheRangeOfRpnZero) {
  TrackBytes track;
  choose(track, 0, 12, 0);
  track.note(0, kBendTicks, 60).event(0, bend_message(0, kBendCentre + kBendCentre / 2));
  EXPECT_THAT(note_words(read_sound(bend_track(track))), ElementsAre("66 at 0 for 1"));
  TrackBytes other;
  choose(other, 0, 1, 50);
  other.note(0, kBendTicks, 60).event(0, bend_message(0, kBendCentre + kBendCentre / 2));
  EXPECT_THAT(note_words(read_sound(bend_track(other))), ElementsAre("61-25 at 0 for 1"));
}

TEST(Bend, IgnoresDataEntryOfAnotherParameter) {
  // After the null parameter, and for a non-registered one, data entry is not the bend range.
  TrackBytes closed;
  choose(closed, 0, 2, 0);
  closed.event(0, control(kRpnCoarse, 127)).event(0, control(kRpnFine, 127));
  closed.event(0, control(kDataEntry, 12)).event(0, bend(50)).note(0, kBendTicks, 60);
  EXPECT_THAT(note_words(read_sound(bend_track(closed))), ElementsAre("60+50 at 0 for 1"));
  TrackBytes other;
  other.event(0, control(kNrpnCoarse, 0)).event(0, control(kNrpnFine, 0));
  other.event(0, control(kDataEntry, 12)).event(0, bend(50)).note(0, kBendTicks, 60);
  EXPECT_THAT(note_words(read_sound(bend_track(other))), ElementsAre("60+50 at 0 for 1"));
}

// RPN 1 is fine tuning, 0x2000 in the centre and 100 cents either way; RPN 2 coarse tuning in
// semitones around 64.
TEST(Bend, CountsTheTuningOfTheChannel) {
  TrackBytes fine;
  choose(fine, 1, 80, 0);  // 0x2800: a quarter of the way up
  fine.note(0, kBendTicks, 60);
  EXPECT_THAT(note_words(read_sound(bend_track(fine))), ElementsAre("60+25 at 0 for 1"));
  TrackBytes coarse;
  choose(coarse, 2, 62, 0);
  coarse.note(0, kBendTicks, 60);
  EXPECT_THAT(note_words(read_sound(bend_track(coarse))), ElementsAre("58 at 0 for 1"));
}

TEST(Bend, IsOfItsOwnChannel) {
  TrackBytes track;
  track.note(0, kBendTicks, 60, 1).event(0, bend(50));
  EXPECT_THAT(note_words(read_sound(bend_track(track))), ElementsAre("60 at 0 for 1"));
}

TEST(Bend, MayStandInAnotherTrack) {
  const auto file = midi_file(
      1, kBendTicks,
      {TrackBytes().event(0, bend(20)).bytes(), TrackBytes().note(0, kBendTicks, 60).bytes()});
  EXPECT_THAT(note_words(read_sound(file)), ElementsAre("60+20 at 0 for 1"));
}

TEST(Bend, IsTakenBackByTheResetOfControllers) {
  TrackBytes track;
  track.event(0, bend(50)).note(0, kBendTicks, 60).note(kBendTicks, 2 * kBendTicks, 62);
  track.event(kBendTicks, control(kResetControllers, 0));
  EXPECT_THAT(note_words(read_sound(bend_track(track))),
              ElementsAre("60+50 at 0 for 1", "62 at 1 for 1"));
}

TEST(Bend, CountsTheLastOfOneTick) {
  const BendLine line = bend_lines({{10, 0, 0xE0, 0, 80}, {10, 0, 0xE0, 0, 64}})[0];
  ASSERT_EQ(line.size(), 1U);
  EXPECT_EQ(line[0].value, 0);
}

// A bend that stands for nine tenths of the note is its pitch: the wheel is often late by a little.
TEST(Bend, MayComeALittleLate) {
  TrackBytes track;
  track.note(0, kBendTicks, 60).event(6, bend(30));
  EXPECT_THAT(note_words(read_sound(bend_track(track))), ElementsAre("60+30 at 0 for 1"));
  EXPECT_THAT(told(read_messages(bend_track(track))), IsEmpty());
}

TEST(MovingBend, ThatReachesTheNextNoteIsASlide) {
  TrackBytes track;
  track.note(0, kBendTicks, 60).note(kBendTicks, 2 * kBendTicks, 62);
  for (int i = 1; i <= 8; ++i) track.event(60 + 4 * i, bend(25.0 * i));
  track.event(kBendTicks, bend(0));
  const auto file = bend_track(track);
  const model::Score score = read_sound(file);
  EXPECT_THAT(note_words(score), ElementsAre("60 at 0 for 1", "62 at 1 for 1"));
  EXPECT_THAT(score.notes[0].marks, ElementsAre(model::Mark::suri));
  EXPECT_THAT(told(read_messages(file)), ElementsAre("note slide-read in bar 1"));
}

// Half of the note at rest and half 80 cents up: 40 on the average.
TEST(MovingBend, OtherwiseGivesTheAverage) {
  TrackBytes track;
  track.note(0, kBendTicks, 60).note(kBendTicks, 2 * kBendTicks, 67);
  track.event(kBendTicks / 2, bend(80)).event(kBendTicks, bend(0));
  const auto file = bend_track(track);
  const model::Score score = read_sound(file);
  EXPECT_THAT(note_words(score), ElementsAre("60+40 at 0 for 1", "67 at 1 for 1"));
  EXPECT_THAT(score.notes[0].marks, IsEmpty());
  const auto found = read_messages(file);
  EXPECT_THAT(told(found), ElementsAre("warning moving-bend in bar 1"));
  EXPECT_EQ(found.front().message, "bar 1: a bend moves during a note: it gets the average pitch");
}

TEST(MovingBend, BeforeARestIsNoSlide) {
  TrackBytes track;
  track.note(0, kBendTicks, 60).note(2 * kBendTicks, 3 * kBendTicks, 62);
  track.event(kBendTicks / 2, bend(200)).event(kBendTicks, bend(0));
  const auto file = bend_track(track);
  EXPECT_THAT(note_words(read_sound(file)), ElementsAre("61 at 0 for 1", "62 at 2 for 1"));
  EXPECT_THAT(told(read_messages(file)), ElementsAre("warning moving-bend in bar 1"));
}

TEST(Bend, ThatOutlastsItsFileIsToldWhereTheFileIsChecked) {
  TrackBytes track;
  track.note(0, kBendTicks, 72).event(0, bend_message(0, 0x2400)).event(0, bend_message(3, 0x2400));
  track.event(kBendTicks, bend_message(3, kBendCentre));
  MidiReadOptions checked;
  checked.scrutiny = Scrutiny::whole_file;
  const auto found = read_messages(bend_track(track), checked);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].rule, &rule::bend_not_reset);
  EXPECT_EQ(found[0].message, "channel 1 is still bent when the file ends");
  EXPECT_THAT(read_messages(bend_track(track)), IsEmpty());
  // Resetting all controllers (121) sets the wheel back, also in a file without notes.
  TrackBytes silent;
  silent.event(0, bend_message(5, 0)).event(1, bend_message(6, 0));
  silent.event(2, message(kController, 5, kResetControllers, 0));
  const auto of_silence = read_messages(bend_track(silent), checked);
  ASSERT_EQ(of_silence.size(), 2U);
  EXPECT_EQ(of_silence[0].rule, &rule::no_notes);
  EXPECT_EQ(of_silence[1].message, "channel 7 is still bent when the file ends");
}

}  // namespace
}  // namespace yubifu::midi
