// Notes that are late throughout, and notes that were played by another clock than their file's.
#include <cmath>

#include <gmock/gmock.h>

#include "bench/performed_tune.h"
#include "midi/midi_bytes.h"
#include "midi/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

using bench::MeantNote;
using testing::Contains;
using testing::Each;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

constexpr std::int64_t kBeat = 12;  // of MeantNote

// Notes with these lengths over and over, in twelfths of a quarter note.
std::vector<MeantNote> pattern(const std::vector<std::int64_t>& lengths, std::int64_t beats) {
  std::vector<MeantNote> tune;
  std::int64_t at = 0;
  for (std::size_t i = 0; at < beats * kBeat; ++i) {
    const std::int64_t length = lengths[i % lengths.size()];
    tune.push_back({at, at + length, 1});
    at += length;
  }
  return tune;
}

// In 4/4 at 120 a minute, all notes later by `late` quarter notes but none before 0; each of
// `lengths` in quarter notes.
std::string shifted_file(const std::vector<double>& lengths, double late, int ppq,
                         double start = 0) {
  TrackBytes track;
  track.event(0, meter_message({4, 4}));
  double at = start + late;
  const auto tick = [&](double quarters) {
    return std::max<std::int64_t>(0, std::llround(quarters * ppq));
  };
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    track.note(tick(at), tick(at + lengths[i]), 70 + static_cast<int>(i % 4));
    at += lengths[i];
  }
  return midi_file(0, ppq, {track.bytes()});
}

// "0 for 1" without the keys.
std::vector<std::string> times_of(const std::string& file, const MidiReadOptions& options = {}) {
  std::vector<std::string> times = note_words(read_sound(file, options));
  for (std::string& time : times) time.erase(0, time.find("at ") + 3);
  return times;
}

const std::vector<double> kEightQuarters(8, 1);
const std::vector<std::string> kOnTheBeats{"0 for 1", "1 for 1", "2 for 1", "3 for 1",
                                           "4 for 1", "5 for 1", "6 for 1", "7 for 1"};
// Quarters, eighths, a dotted quarter: an ordinary tune.
const std::vector<double> kTune{1, 0.5, 0.5, 1, 1, 1.5, 0.5, 1, 1, 0.5, 0.5, 1, 2};

// A constant lateness.

// Ppq 96, the first note at tick 6, then quarter notes.
TEST(Lateness, IsTakenAwayAndToldOnce) {
  const auto file = shifted_file(kEightQuarters, 6 / 96.0, 96);
  EXPECT_EQ(times_of(file), kOnTheBeats);
  const auto found = read_messages(file);
  EXPECT_THAT(told(found), ElementsAre("note constant-offset"));
  EXPECT_EQ(found.front().message,
            "every note comes 0.0625 of a quarter note late: this was taken away");
  EXPECT_EQ(found.front().hint, "--offset 0 leaves the times as they are");
}

// Whatever it is, as long as it is no place of the music: 0.126 is near a thirty-second, 0.35 near
// a triplet; 3 and -10 ticks of 96.
TEST(Lateness, IsFoundWhateverItIs) {
  for (const double late : {0.126, 0.35, 3 / 96.0, 10 / 480.0, -0.126, 0.43}) {
    for (const int ppq : {96, 480, 960}) {
      const auto file = shifted_file(kTune, late, ppq, 4);
      const auto expected = times_of(shifted_file(kTune, 0, ppq, 4));
      EXPECT_EQ(times_of(file), expected) << late << " at " << ppq;
      EXPECT_THAT(told(read_messages(file)), ElementsAre("note constant-offset")) << late;
    }
  }
}

// Ten ticks early: the first note would begin before the file does, and begins with it instead.
TEST(Lateness, MayBeNegativeWithTheFirstNoteCut) {
  EXPECT_EQ(times_of(shifted_file(kEightQuarters, -10 / 96.0, 96)), kOnTheBeats);
}

// A pickup on the fourth beat: the first bar keeps its three beats of rest.
TEST(Lateness, LeavesAPickupWhereItIs) {
  for (const double late : {-10 / 96.0, 6 / 96.0}) {
    EXPECT_THAT(times_of(shifted_file({1, 1, 1, 1, 1}, late, 96, 3)),
                ElementsAre("3 for 1", "4 for 1", "5 for 1", "6 for 1", "7 for 1"));
  }
}

// A first bar of its own meter stays that, and the others begin where they did.
TEST(Lateness, LeavesAFirstBarThatIsAPickup) {
  TrackBytes track;
  track.event(0, meter_message({1, 4})).event(96, meter_message({4, 4}));
  for (std::int64_t i = 0; i < 5; ++i) {
    track.note(i * 96 + 6, (i + 1) * 96 + 6, 70 + static_cast<int>(i % 4));
  }
  const model::Score score = read_sound(midi_file(0, 96, {track.bytes()}));
  ASSERT_EQ(score.measures.size(), 2U);
  EXPECT_EQ(score.measures[0].number, "0");
  EXPECT_EQ(score.notes[1].measure, 1U);
  EXPECT_EQ(score.notes[1].onset, model::Rational(0));
}

// What stands on a note goes with it; what stands elsewhere stays.
TEST(Lateness, TakesMarkersAlong) {
  TrackBytes track;
  track.event(0, meter_message({4, 4}));
  for (std::int64_t i = 0; i < 12; ++i) {
    track.note(i * 96 + 6, (i + 1) * 96 + 6, 70 + static_cast<int>(i % 4));
  }
  track.event(4 * 96 + 6, meta_message(kMarker, "A")).event(8 * 96, meta_message(kMarker, "B"));
  const auto file = midi_file(0, 96, {track.bytes()});
  const model::Score score = read_sound(file);
  ASSERT_EQ(score.directions.size(), 2U);
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_EQ(score.directions[i].measure, i + 1);
    EXPECT_EQ(score.directions[i].onset, model::Rational(0));
  }
  EXPECT_THAT(told(read_messages(file)), ElementsAre("note constant-offset"));
}

// All notes off the beat, on the eighths or on the triplets: that is music.
TEST(Lateness, IsNoneOnEighthsOrTriplets) {
  for (const double late : {0.5, 1.0 / 3, 2.0 / 3}) {
    const auto file = shifted_file(kEightQuarters, late, 96);
    EXPECT_THAT(told(read_messages(file)), Not(Contains("note constant-offset"))) << late;
    EXPECT_NE(times_of(file), kOnTheBeats);
  }
}

TEST(Lateness, IsNoneWhereSomeNotesAreOnTheirPlaces) {
  // A bar on the beat, a bar of syncopation by sixteenths, in turn.
  const auto file = shifted_file({1, 1, 1, 1, 0.25, 1, 1, 1, 0.75, 1, 1, 1, 1}, 0, 96);
  EXPECT_THAT(told(read_messages(file)), IsEmpty());
}

// Played late by a third and a bit of the quarter note, with errors of 10 ms.
TEST(Lateness, IsFoundInWhatAPersonPlayed) {
  for (const double late : {0.08, 0.126, 0.35, -0.2}) {
    const auto tune = bench::random_tune(bench::Rhythm::binary, 60, 31);
    auto played = bench::play(tune, {100, 10, 32, 1});
    for (auto& note : played) {
      note.begin += std::llround(late * bench::kPlayedTicks);
      note.end += std::llround(late * bench::kPlayedTicks);
    }
    const auto file = bench::performed_file(played, 100);
    EXPECT_GE(bench::share_right(tune, bench::read_back(file)), 0.99) << late;
    EXPECT_THAT(told(read_messages(file)), Contains("note constant-offset")) << late;
  }
}

TEST(Lateness, IsThatOfTheOption) {
  const auto file = shifted_file(kEightQuarters, 0.5, 96);
  MidiReadOptions options;
  options.offset = model::Rational(1, 2);
  EXPECT_EQ(times_of(file, options), kOnTheBeats);
  EXPECT_THAT(told(read_messages(file, options)), IsEmpty());
  options.offset = model::Rational(-1, 2);
  EXPECT_EQ(times_of(file, options).front(), "1 for 1");
}

TEST(Lateness, OfZeroLeavesTheTimesAsTheyAre) {
  MidiReadOptions options;
  options.offset = model::Rational(0);
  const auto file = shifted_file(kEightQuarters, 6 / 96.0, 96);
  EXPECT_EQ(times_of(file, options).front(), "1/16 for 1");
}

TEST(Lateness, CannotPutTheFirstNoteBeforeTheStart) {
  MidiReadOptions options;
  options.offset = model::Rational(2);
  const auto refused = read_midi(shifted_file(kEightQuarters, 0, 96), options);
  EXPECT_FALSE(refused.value);
  EXPECT_THAT(told(refused.diagnostics), ElementsAre("error offset-option"));
}

// Eighths in the ratio of a light, a usual and a strong swing stay what they were before: neither
// lateness nor another tempo.
TEST(Lateness, IsNoSwing) {
  for (const double first : {0.54, 0.58, 0.62, 2.0 / 3, 0.7}) {
    std::vector<double> lengths;
    for (int i = 0; i < 24; ++i) {
      lengths.push_back(first);
      lengths.push_back(1 - first);
    }
    for (const int ppq : {96, 480}) {
      const auto found = told(read_messages(shifted_file(lengths, 0, ppq)));
      EXPECT_THAT(found, Not(Contains("note constant-offset"))) << first;
      EXPECT_THAT(found, Not(Contains("note played-tempo"))) << first;
    }
  }
}

// Another clock.

struct Free {
  bench::Rhythm rhythm;
  double tempo;
  double error_ms;
  double least_share;
};

class FreePlaying : public testing::TestWithParam<Free> {};

// In a file that says 120 whatever is played: steady, ever faster and ever slower by five per cent.
TEST_P(FreePlaying, IsReadAsItWasMeant) {
  const Free& free = GetParam();
  double right = 0;
  int tunes = 0;
  for (const double drift : {0.0, 0.05, -0.05}) {
    for (std::uint64_t seed = 7001; seed < 7003; ++seed) {
      const auto tune = bench::random_tune(free.rhythm, 120, seed);
      const auto played =
          bench::play(tune, {free.tempo, free.error_ms, seed + 500, 1, drift, 120.0});
      right += bench::share_right(tune, bench::read_back(bench::performed_file(played, 120)));
      ++tunes;
    }
  }
  EXPECT_GE(right / tunes, free.least_share);
}

std::vector<Free> free_playings() {
  std::vector<Free> list;
  for (const double tempo : {50.0, 66.0, 88.0, 104.0, 132.0, 152.0}) {
    list.push_back({bench::Rhythm::binary, tempo, 5, 0.999});
    list.push_back({bench::Rhythm::binary, tempo, 15, 0.98});
    if (tempo < 110) list.push_back({bench::Rhythm::binary, tempo, 25, tempo < 100 ? 0.97 : 0.9});
    if (tempo < 140) list.push_back({bench::Rhythm::mixed, tempo, 15, 0.98});
  }
  return list;
}

INSTANTIATE_TEST_SUITE_P(In120, FreePlaying, testing::ValuesIn(free_playings()),
                         [](const auto& test) {
                           const Free& p = test.param;
                           return std::string(p.rhythm == bench::Rhythm::binary ? "Binary"
                                                                                : "Mixed") +
                                  std::to_string(static_cast<int>(p.tempo)) + "With" +
                                  std::to_string(static_cast<int>(p.error_ms)) + "ms";
                         });

std::string played_at_66() {
  const auto tune = bench::random_tune(bench::Rhythm::binary, 60, 41);
  return bench::performed_file(bench::play(tune, {66, 10, 42, 1, 0, 120.0}), 120);
}

TEST(PlayedTempo, IsWrittenAndTold) {
  const auto file = played_at_66();
  const model::Score score = read_sound(file);
  ASSERT_TRUE(score.header.tempo);
  EXPECT_EQ(score.header.tempo->per_minute, model::Rational(66));
  const auto found = read_messages(file);
  EXPECT_EQ(message_of(found, rule::played_tempo),
            "the notes were played at about 66 beats a minute, and the file says 120: bars and "
            "tempo are those of the playing");
}

// The written tempos make the score as long as the playing was, within a hundredth.
TEST(PlayedTempo, KeepsTheRealTime) {
  for (const double drift : {0.0, 0.05, -0.05}) {
    const auto tune = bench::random_tune(bench::Rhythm::binary, 160, 51);
    const auto played = bench::play(tune, {80, 10, 52, 1, drift, 120.0});
    const model::Score score = read_sound(bench::performed_file(played, 120));
    std::vector<model::Rational> starts{0};
    for (const auto& measure : score.measures) starts.push_back(starts.back() + measure.length);
    const model::Note& last = score.notes.back();
    const double end = (starts[last.measure] + last.onset).as_double();
    double seconds = 0;
    double at = 0;
    double tempo = score.header.tempo->quarters_per_minute().as_double();
    for (const auto& direction : score.directions) {
      const auto* change = std::get_if<model::TempoChange>(&direction.value);
      if (change == nullptr) continue;
      const double here = (starts[direction.measure] + direction.onset).as_double();
      seconds += (here - at) * 60 / tempo;
      at = here;
      tempo = change->tempo.quarters_per_minute().as_double();
    }
    seconds += (end - at) * 60 / tempo;
    const double heard = static_cast<double>(played.back().begin) / bench::kPlayedTicks * 0.5;
    EXPECT_NEAR(seconds / heard, 1, 0.01) << drift;
  }
}

// Someone who plays by the clock of the file, however inexactly and whatever the rhythm, is not
// told another tempo: not for rhythms that would suit another clock as well.
TEST(PlayedTempo, IsThatOfTheFileWhereThatExplainsTheNotes) {
  const std::vector<std::vector<std::int64_t>> rhythms{
      {12},           {6},           {3},        {4},       {8, 4},     {18, 18, 12}, {9, 3}, {24},
      {12, 12, 6, 6}, {4, 4, 4, 12}, {6, 12, 6}, {3, 6, 3}, {8, 4, 12}, {48}};
  for (const auto& rhythm : rhythms) {
    for (const double tempo : {60.0, 100.0, 140.0}) {
      for (const double error : {5.0, 20.0}) {
        const auto played = bench::play(pattern(rhythm, 64), {tempo, error, 61, 1});
        const auto found = told(read_messages(bench::performed_file(played, tempo)));
        EXPECT_THAT(found, Each(Not(StartsWith("note played-tempo"))))
            << testing::PrintToString(rhythm) << " at " << tempo;
      }
    }
  }
}

// What sits on a grid says what it means, at any tempo and however odd.
TEST(PlayedTempo, IsNeverFoundOnAGrid) {
  std::vector<double> lengths;
  for (int i = 0; i < 60; ++i) lengths.push_back(i % 3 == 0 ? 1.25 : 0.75);
  EXPECT_THAT(told(read_messages(shifted_file(lengths, 0, 480))), IsEmpty());
}

TEST(PlayedTempo, IsThatOfTheOption) {
  MidiReadOptions options;
  options.played_tempo = 132;
  // Twice as fast counts twice as many beats.
  const model::Score score = read_sound(played_at_66(), options);
  EXPECT_EQ(score.header.tempo->per_minute, model::Rational(132));
  EXPECT_THAT(told(read_messages(played_at_66(), options)),
              Each(Not(StartsWith("note played-tempo"))));
  options.played_tempo = std::nullopt;
  options.offset = model::Rational(0);
  EXPECT_EQ(read_sound(played_at_66(), options).header.tempo->per_minute, model::Rational(120));
}

TEST(PlayedTempo, IsTwentyToFourHundred) {
  for (const double tempo : {0.0, 19.0, 401.0}) {
    MidiReadOptions options;
    options.played_tempo = tempo;
    const auto refused = read_midi(played_at_66(), options);
    EXPECT_FALSE(refused.value);
    EXPECT_THAT(told(refused.diagnostics), ElementsAre("error played-tempo-option"));
  }
}

// Every other note a thirty-second late: nobody writes that, so the reader asks for help.
TEST(DeepRhythm, IsToldOnceWithTheOptionThatWouldHelp) {
  std::vector<double> lengths;
  for (int i = 0; i < 16; ++i) lengths.push_back(i % 2 == 0 ? 1.125 : 0.875);
  const auto found = read_messages(shifted_file(lengths, 0, 480));
  EXPECT_THAT(told(found), ElementsAre("note deep-rhythm"));
  EXPECT_EQ(found.front().message, "4 of 4 bars need groups inside groups inside groups");
  EXPECT_THAT(found.front().hint, HasSubstr("--grid 4"));
}

// Sixths of a beat alone are two groups; all notes a sixth late are a row of beats in one more.
TEST(DeepRhythm, IsToldOfRowsOfBeatsToo) {
  MidiReadOptions options;
  options.offset = model::Rational(-1, 6);
  const auto found = read_messages(shifted_file(kEightQuarters, 0, 96), options);
  EXPECT_THAT(told(found), ElementsAre("note deep-rhythm"));
}

TEST(DeepRhythm, IsNotToldOfOneBarInTen) {
  std::vector<double> lengths(40, 1);
  lengths[20] = 1.125;
  lengths[21] = 0.875;
  EXPECT_THAT(told(read_messages(shifted_file(lengths, 0, 480))), IsEmpty());
}

}  // namespace
}  // namespace yubifu::midi
