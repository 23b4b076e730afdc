// Tempo, meter, key and bars of a file, and time that is counted in seconds.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/read/tempos.h"
#include "midi/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr int kTimeTicks = 96;

// Quarter notes of C5, one after the other.
TrackBytes later_quarters(int count, std::int64_t first = 0) {
  TrackBytes track;
  for (std::int64_t i = first; i < first + count; ++i)
    track.note(i * kTimeTicks, (i + 1) * kTimeTicks, 72);
  return track;
}

std::string one(const TrackBytes& track) {
  return midi_file(0, kTimeTicks, {track.bytes()});
}

std::string tempo(double per_minute) {
  return tempo_message(static_cast<std::uint32_t>(60e6 / per_minute));
}

// "0: 4 of 4/4" a measure: number, length in quarters and meter.
std::vector<std::string> bars_of(const model::Score& score) {
  std::vector<std::string> bars;
  for (const model::Measure& measure : score.measures) {
    bars.push_back(measure.number + ": " + model::to_text(measure.length) + " of " +
                   model::to_text(measure.meter) + (measure.irregular ? " irregular" : ""));
  }
  return bars;
}

// "1+2: 90" for 90 of the unit a minute, at two quarters of measure 1 (counted from 1).
std::vector<std::string> tempos_of(const model::Score& score) {
  std::vector<std::string> list;
  for (const model::Direction& direction : score.directions) {
    const std::string at =
        std::to_string(direction.measure + 1) + "+" + model::to_text(direction.onset) + ": ";
    if (const auto* change = std::get_if<model::TempoChange>(&direction.value)) {
      list.push_back(at + model::to_decimal(change->tempo.per_minute));
    } else if (const auto* cue = std::get_if<model::Cue>(&direction.value)) {
      list.push_back(at + (*cue == model::Cue::rit     ? "rit"
                           : *cue == model::Cue::accel ? "accel"
                                                       : "a-tempo"));
    }
  }
  return list;
}

std::string header_tempo(const model::Score& score) {
  return score.header.tempo ? model::to_decimal(score.header.tempo->per_minute) : "none";
}

TEST(Tempo, IsAHundredAndTwentyWithoutAWord) {
  EXPECT_EQ(header_tempo(read_sound(one(later_quarters(4)))), "120");
}

TEST(Tempo, StandsInAnyTrackAndChanges) {
  const std::string late =
      TrackBytes().event(0, tempo(90)).event(4 * kTimeTicks, tempo(60)).bytes();
  const std::string meter = TrackBytes().event(0, meter_message({4, 4})).bytes();
  const model::Score score =
      read_sound(midi_file(1, kTimeTicks, {meter, later_quarters(8).bytes(), late}));
  EXPECT_EQ(header_tempo(score), "90");
  EXPECT_THAT(tempos_of(score), ElementsAre("2+0: 60"));
}

TEST(Tempo, CountsTheLastOfTwoAtOneTick) {
  const auto file = one(later_quarters(4).event(0, tempo(90)).event(0, tempo(100)));
  const model::Score score = read_sound(file);
  EXPECT_EQ(header_tempo(score), "100");
  EXPECT_THAT(tempos_of(score), IsEmpty());
  EXPECT_THAT(told(read_messages(file)), ElementsAre("note double-tempo in bar 1"));
}

// Programs write the tempo into the track of each instrument.
TEST(Tempo, IsNotToldTwiceWhereItIsTheSame) {
  const auto file = one(later_quarters(4).event(0, tempo(90)).event(0, tempo(90)));
  EXPECT_THAT(told(read_messages(file)), IsEmpty());
}

TEST(Tempo, IsOfTheDottedQuarterInCompoundTime) {
  const model::Score score =
      read_sound(one(later_quarters(3).event(0, meter_message({6, 8})).event(0, tempo(90))));
  ASSERT_TRUE(score.header.tempo);
  EXPECT_EQ(score.header.tempo->per_minute, model::Rational(60));
  EXPECT_EQ(score.header.tempo->unit, model::Rational(3, 2));
}

TEST(Tempo, GoesToASimplePlace) {
  const auto file =
      one(later_quarters(4).event(0, meter_message({4, 4})).event(kTimeTicks + 7, tempo(60)));
  EXPECT_THAT(tempos_of(read_sound(file)), ElementsAre("1+1: 60"));
  EXPECT_THAT(told(read_messages(file)), ElementsAre("note direction-moved in bar 1"));
}

// 500,000 microseconds are 120 a minute; 454,545 are 132.0001…, 689,655 are 87.00004…
TEST(Tempo, IsTheSimplestNumberThatTheFileMayMean) {
  EXPECT_EQ(simplest_tempo(500'000, 1).per_minute, model::Rational(120));
  EXPECT_EQ(simplest_tempo(454'545, 1).per_minute, model::Rational(132));
  EXPECT_EQ(simplest_tempo(689'655, 1).per_minute, model::Rational(87));
  EXPECT_EQ(simplest_tempo(648'649, 1).per_minute, model::Rational(925, 10));
}

TEST(Tempo, TakesASlowerNoteForAFermata) {
  const model::Score score = read_sound(one(later_quarters(4)
                                                .event(0, tempo(100))
                                                .event(2 * kTimeTicks, tempo(50))
                                                .event(3 * kTimeTicks, tempo(100))));
  EXPECT_THAT(tempos_of(score), IsEmpty());
  EXPECT_THAT(score.notes[2].marks, ElementsAre(model::Mark::fermata));
}

TEST(Tempo, TakesStepsOneWayForARitardando) {
  TrackBytes track = later_quarters(8).event(0, meter_message({4, 4})).event(0, tempo(100));
  for (int i = 0; i < 4; ++i) track.event(kTimeTicks * (2 + i), tempo(95 - 5 * i));
  track.event(6 * kTimeTicks, tempo(100));
  EXPECT_THAT(tempos_of(read_sound(one(track))), ElementsAre("1+2: rit", "2+2: a-tempo"));
}

TEST(Meter, GivesTheBars) {
  const model::Score score = read_sound(one(later_quarters(7).event(0, meter_message({3, 4}))));
  EXPECT_THAT(bars_of(score), ElementsAre("1: 3 of 3/4", "2: 3 of 3/4", "3: 3 of 3/4"));
  EXPECT_EQ(score.measures.back().right, model::BarStyle::final);
}

TEST(Meter, StandsInAnyTrackAndChanges) {
  const std::string other = TrackBytes()
                                .event(0, meter_message({4, 4}))
                                .event(4 * kTimeTicks, meter_message({3, 4}))
                                .bytes();
  const model::Score score =
      read_sound(midi_file(1, kTimeTicks, {later_quarters(7).bytes(), other}));
  EXPECT_THAT(bars_of(score), ElementsAre("1: 4 of 4/4", "2: 3 of 3/4"));
}

TEST(Meter, IsFourFourBeforeTheFirst) {
  const model::Score score =
      read_sound(one(later_quarters(7).event(4 * kTimeTicks, meter_message({3, 4}))));
  EXPECT_THAT(bars_of(score), ElementsAre("1: 4 of 4/4", "2: 3 of 3/4"));
}

TEST(Meter, CutsABarShortWhereItChangesInTheMiddle) {
  const model::Score score = read_sound(one(later_quarters(9)
                                                .event(0, meter_message({4, 4}))
                                                .event(6 * kTimeTicks, meter_message({3, 4}))));
  EXPECT_THAT(bars_of(score), ElementsAre("1: 4 of 4/4", "2: 2 of 4/4", "3: 3 of 3/4"));
}

TEST(Meter, LeavesOutOneThatSaysTheSame) {
  const model::Score score = read_sound(one(later_quarters(8)
                                                .event(0, meter_message({4, 4}))
                                                .event(4 * kTimeTicks, meter_message({4, 4}))));
  EXPECT_THAT(bars_of(score), ElementsAre("1: 4 of 4/4", "2: 4 of 4/4"));
}

// A program that has no word for a pickup writes a bar of 1/4 before the 4/4, and one of 3/4 last.
TEST(Meter, TakesAShortFirstBarForAPickup) {
  const model::Score score = read_sound(one(later_quarters(8)
                                                .event(0, meter_message({1, 4}))
                                                .event(kTimeTicks, meter_message({4, 4}))
                                                .event(5 * kTimeTicks, meter_message({3, 4}))));
  EXPECT_THAT(bars_of(score), ElementsAre("0: 1 of 4/4", "1: 4 of 4/4", "2: 3 of 4/4"));
}

TEST(Meter, IsThatOfTheOptionWhereTheFileHasNone) {
  MidiReadOptions options;
  options.meter = model::Meter{3, 4};
  EXPECT_THAT(bars_of(read_sound(one(later_quarters(6)), options)),
              ElementsAre("1: 3 of 3/4", "2: 3 of 3/4"));
  const auto file = one(later_quarters(4).event(0, meter_message({2, 4})));
  EXPECT_THAT(bars_of(read_sound(file, options)), ElementsAre("1: 2 of 2/4", "2: 2 of 2/4"));
}

TEST(Meter, IsFreeWithoutAnyWord) {
  const model::Score score = read_sound(one(later_quarters(6)));
  EXPECT_THAT(bars_of(score), ElementsAre("1: 6 of free"));
  EXPECT_TRUE(score.header.meter.is_free());
}

// Without bars a phrase ends at a rest of a quarter note.
TEST(Meter, PartsFreeTimeIntoPhrases) {
  TrackBytes track = later_quarters(6);
  for (std::int64_t i = 8; i < 10; ++i) track.note(i * kTimeTicks, (i + 1) * kTimeTicks, 74);
  EXPECT_THAT(bars_of(read_sound(one(track))), ElementsAre("1: 8 of free", "2: 2 of free"));
  EXPECT_THAT(bars_of(read_sound(one(later_quarters(20)))),
              ElementsAre("1: 16 of free", "2: 4 of free"));
}

TEST(Meter, HoldsANoteOverTheBarLine) {
  const model::Score score = read_sound(one(
      later_quarters(3).note(3 * kTimeTicks, 6 * kTimeTicks, 74).event(0, meter_message({4, 4}))));
  EXPECT_THAT(bars_of(score), ElementsAre("1: 4 of 4/4", "2: 4 of 4/4"));
  EXPECT_EQ(score.notes[3].duration, model::Rational(3));
}

TEST(Meter, RefusesMoreBarsThanAnyMusicHas) {
  // 400,000 quarter notes less one, in bars of 1/128.
  TrackBytes track;
  track.event(0, meter_message({1, 128})).note(0, 399'999LL * kTimeTicks, 72);
  const auto outcome = read_midi(one(track), {});
  EXPECT_FALSE(outcome.value);
  EXPECT_THAT(told(outcome.diagnostics), ElementsAre("error too-many-bars"));
}

TEST(KeySignature, IsTheHeadersAndLaterADirection) {
  const model::Score score =
      read_sound(one(later_quarters(8)
                         .event(0, meter_message({4, 4}))
                         .event(0, key_message({-2, model::Mode::major}))
                         .event(4 * kTimeTicks, key_message({3, model::Mode::minor}))));
  EXPECT_EQ(score.header.key, (model::Key{-2, model::Mode::major}));
  ASSERT_EQ(score.directions.size(), 1U);
  EXPECT_EQ(score.directions[0].measure, 1U);
  EXPECT_EQ(std::get<model::KeyChange>(score.directions[0].value).key,
            (model::Key{3, model::Mode::minor}));
}

// 61 is D flat in five flats and C sharp in two sharps.
TEST(KeySignature, SpellsTheNotes) {
  const auto spelled = [](int fifths) {
    const auto file = one(
        TrackBytes().note(0, kTimeTicks, 61).event(0, key_message({fifths, model::Mode::major})));
    return model::to_text(read_sound(file).notes[0].tone.spelling.value());
  };
  EXPECT_EQ(spelled(-5), "Db4");
  EXPECT_EQ(spelled(2), "C#4");
  EXPECT_FALSE(read_sound(one(later_quarters(1))).notes[0].tone.spelling);
}

TEST(KeySignature, OutOfRangeIsLeftOut) {
  // F8 is minus eight, 08 eight.
  for (const char* digits : {"FF 59 02 F8 00", "FF 59 02 08 00", "FF 59 02 00 02"}) {
    const auto file = one(later_quarters(1).event(0, hex(digits)));
    EXPECT_FALSE(read_sound(file).header.key) << digits;
    EXPECT_THAT(told(read_messages(file)), ElementsAre("warning bad-meta at byte 22"));
  }
}

// Time counted in frames: the division E7 28 is 25 frames a second of 40 ticks, a millisecond each;
// at 120 a minute a quarter note is 500 of them.

TEST(Smpte, CountsSecondsAndTakesBeatsFromTheTempo) {
  TrackBytes track;
  track.event(0, meter_message({4, 4})).event(0, tempo(120));
  track.note(0, 500, 72).note(500, 750, 74).note(750, 1000, 76).note(1000, 2000, 77);
  const std::string file = midi_file(0, 0xE728, {track.bytes()});
  EXPECT_THAT(note_words(read_sound(file)), ElementsAre("72 at 0 for 1", "74 at 1 for 1/2",
                                                        "76 at 3/2 for 1/2", "77 at 2 for 2"));
  EXPECT_THAT(told(read_messages(file)), IsEmpty());
}

TEST(Smpte, FollowsTheTempo) {
  TrackBytes track;
  track.event(0, meter_message({2, 4})).event(0, tempo(60)).event(2000, tempo(120));
  track.note(0, 1000, 72).note(1000, 2000, 74).note(2000, 2500, 76).note(2500, 3000, 77);
  const model::Score score = read_sound(midi_file(0, 0xE728, {track.bytes()}));
  EXPECT_THAT(note_words(score),
              ElementsAre("72 at 0 for 1", "74 at 1 for 1", "76 at 2 for 1", "77 at 3 for 1"));
  EXPECT_THAT(tempos_of(score), ElementsAre("2+0: 120"));
}

// E3 is 29: 30,000/1,001 frames a second (SMPTE 12M). A quarter note at 120 a minute lasts 14.985
// frames, 1198.8 ticks of a frame in 80.
TEST(Smpte, CountsDropFrames) {
  TrackBytes track;
  track.event(0, meter_message({4, 4}));
  for (int i = 0; i < 8; ++i) {
    track.note(static_cast<std::int64_t>(1198.8 * i + 0.5),
               static_cast<std::int64_t>(1198.8 * (i + 1) + 0.5), 72 + i % 2);
  }
  const model::Score score = read_sound(midi_file(0, 0xE350, {track.bytes()}));
  ASSERT_EQ(score.notes.size(), 8U);
  EXPECT_EQ(note_words(score)[7], "73 at 7 for 1");
}

// Frames are coarse: 24 a second of 4 ticks, 10.4 ms each; a triplet eighth at 90 a minute is 21.33
// ticks.
TEST(Smpte, ReadsTimesThatTheFramesRound) {
  TrackBytes track;
  track.event(0, meter_message({4, 4})).event(0, tempo(90));
  for (int i = 0; i < 12; ++i) {
    track.note(static_cast<std::int64_t>(64.0 / 3 * i + 0.5),
               static_cast<std::int64_t>(64.0 / 3 * (i + 1) + 0.5), 72 + i % 2);
  }
  const model::Score score = read_sound(midi_file(0, 0xE804, {track.bytes()}));
  ASSERT_EQ(score.notes.size(), 12U);
  EXPECT_EQ(note_words(score)[1], "73 at 1/3 for 1/3");
  EXPECT_EQ(note_words(score)[11], "73 at 11/3 for 1/3");
}

}  // namespace
}  // namespace yubifu::midi
