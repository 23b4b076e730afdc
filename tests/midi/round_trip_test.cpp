// Scores written as MIDI and read again.
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "fingering/resolve.h"
#include "midi/midi_bytes.h"
#include "midi/rules.h"
#include "midi/write/tick_grid.h"
#include "midi/write/writer.h"
#include "model/play_out.h"
#include "support/invariants.h"
#include "support/same_music.h"
#include "support/score_generator.h"
#include "support/small_score.h"

namespace yubifu::midi {
namespace {

using support::GeneratorOptions;
using support::RhythmKind;
using testing::ElementsAre;
using testing::IsEmpty;

// A random score whose tones have random pitches, some of them bent: what the fingers would sound
// does not matter here.
model::Score pitched_score(std::uint64_t seed, const GeneratorOptions& options) {
  std::mt19937_64 random(seed);
  model::Score score = support::random_score(random, options);
  std::uniform_int_distribution<int> key(55, 110);
  std::uniform_int_distribution<int> cents(-49, 50);
  std::uniform_int_distribution<int> one_in_three(0, 2);
  const auto fill = [&](model::Tone& tone) {
    tone.pitch = model::Pitch{key(random), one_in_three(random) == 0 ? cents(random) + 0.5 : 0.0};
    tone.pitch = model::pitch_at(tone.pitch->total_cents());
  };
  for (model::Note& note : score.notes) {
    fill(note.tone);
    for (model::Tone& tone : note.grace_before) fill(tone);
    for (model::Tone& tone : note.grace_after) fill(tone);
  }
  return score;
}

struct TripFile {
  std::string bytes;
  bool exact = true;  ///< the writer did not have to move a time
};

TripFile trip_file(const model::Score& score, const MidiWriteOptions& options = {}) {
  auto outcome = write_midi(score, options);
  TripFile result{outcome.value.value_or(std::string())};
  for (const auto& diagnostic : outcome.diagnostics) {
    EXPECT_NE(diagnostic.severity, base::Severity::error) << diagnostic.message;
    if (diagnostic.rule == &rule::tick_rounding) result.exact = false;
  }
  return result;
}

// How many of the scores of this kind were compared, and why the others were not.
struct Compared {
  int compared = 0;
  int without_notes = 0;
  int between_ticks = 0;  ///< a time of theirs falls on no whole tick of any number up to 32767
};

Compared compare(RhythmKind rhythm, std::uint64_t seeds) {
  GeneratorOptions options;
  options.rhythm = rhythm;
  // Grace notes are played, and so come back as notes of their own.
  options.grace_notes = false;
  Compared result;
  for (std::uint64_t seed = 0; seed < seeds; ++seed) {
    const model::Score score = pitched_score(seed, options);
    const model::Score played = model::play_out(score).value->score;
    if (score.notes.empty()) {
      ++result.without_notes;
      continue;
    }
    const TripFile file = trip_file(score);
    if (!choose_grid(played, {}).exact) {
      EXPECT_FALSE(file.exact) << "seed " << seed;
      ++result.between_ticks;
      continue;
    }
    EXPECT_TRUE(file.exact) << "seed " << seed;
    ++result.compared;
    const model::Score read = read_sound(file.bytes);
    const auto difference =
        support::first_difference(played, read, support::Sameness::pitch_and_time);
    EXPECT_FALSE(difference) << "seed " << seed << ": " << *difference;
  }
  fmt::print("{} compared, {} without notes, {} between ticks\n", result.compared,
             result.without_notes, result.between_ticks);
  return result;
}

// Equality is promised where whole ticks hold every time. Powers of two always fit; a score with
// fifths, sevenths, ninths and sixty-fourths at once needs more than 32767 ticks.
TEST(RoundTrip, KeepsPitchAndTimeOfEveryScoreInHalves) {
  const Compared result = compare(RhythmKind::simple, 200);
  EXPECT_EQ(result.between_ticks, 0);
  EXPECT_GT(result.compared, 190);
}

TEST(RoundTrip, KeepsPitchAndTimeOfScoresWithTuplets) {
  const Compared result = compare(RhythmKind::tuplets, 200);
  EXPECT_GT(result.compared, 100);
}

TEST(RoundTrip, KeepsPitchAndTimeOfScoresWithNestedGroups) {
  const Compared result = compare(RhythmKind::any, 200);
  EXPECT_GT(result.compared, 100);
}

// What every time of a beat that this notation can write is like, one bar a division: k notes in
// the time of one to three beats.
TEST(RoundTrip, KeepsEveryDivisionOfOneToThreeBeats) {
  for (std::int64_t parts = 1; parts <= 16; ++parts) {
    for (std::int64_t beats = 1; beats <= 3; ++beats) {
      model::Score score = support::small_score(1);
      score.notes.clear();
      for (std::int64_t i = 0; i < parts; ++i) {
        model::Note note;
        note.onset = {i * beats, parts};
        note.duration = {beats, parts};
        note.tone = support::low_tone(3);
        note.tone.pitch = model::Pitch{static_cast<int>(60 + i % 3), 0};
        score.notes.push_back(note);
      }
      const auto difference = support::first_difference(score, read_sound(trip_file(score).bytes),
                                                        support::Sameness::pitch_and_time);
      EXPECT_FALSE(difference) << parts << " in " << beats << ": " << *difference;
    }
  }
}

// The built-in flutes: sizes 1 to 13 and the half sizes between them, and one tuned by an offset.

std::vector<model::FluteSize> built_in_sizes() {
  std::vector<model::FluteSize> sizes;
  for (std::int64_t halves = 2; halves <= 26; ++halves) sizes.push_back({{halves, 2}, 0});
  sizes.push_back({6, 15});
  sizes.push_back({7, -8});
  return sizes;
}

class RoundTripOfFlute : public testing::TestWithParam<model::FluteSize> {};

TEST_P(RoundTripOfFlute, KeepsPitchTimeAndFingering) {
  GeneratorOptions options;
  options.rhythm = RhythmKind::tuplets;
  options.only_built_in_signs = true;
  options.most_bend_cents = 30;
  options.grace_notes = false;
  options.flute_changes = false;
  int compared = 0;
  for (std::uint64_t seed = 500; seed < 516; ++seed) {
    model::Score score = support::random_score(seed, options);
    score.header.flute = GetParam();
    auto resolved = fingering::resolve(std::move(score), {});
    ASSERT_TRUE(resolved.value) << "seed " << seed;
    const model::Score played = model::play_out(resolved.value->score).value->score;
    const TripFile file = trip_file(resolved.value->score);
    if (played.notes.empty() || !file.exact) continue;
    ++compared;
    const model::Score read = read_sound(file.bytes);
    const auto difference =
        support::first_difference(played, read, support::Sameness::pitch_and_time);
    EXPECT_FALSE(difference) << "seed " << seed << ": " << *difference;
    EXPECT_EQ(read.header.flute, played.header.flute);
    for (std::size_t i = 0; i < std::min(read.notes.size(), played.notes.size()); ++i) {
      const auto& fingering = played.notes[i].tone.fingering;
      if (!fingering || fingering->is_gap()) continue;
      EXPECT_EQ(read.notes[i].tone.fingering, fingering) << "seed " << seed << " note " << i;
    }
  }
  EXPECT_GT(compared, 8);
}

INSTANTIATE_TEST_SUITE_P(Flutes, RoundTripOfFlute, testing::ValuesIn(built_in_sizes()),
                         [](const auto& test) {
                           std::string name = "Size" + model::to_text(test.param);
                           for (char& c : name) c = c == '.' ? 'h' : c == '+' ? 'u' : c;
                           for (char& c : name) c = c == '-' ? 'd' : c;
                           return name;
                         });

// What stands beside the notes.

TEST(RoundTrip, BringsTheHeaderBack) {
  model::Score score = support::small_score(2);
  for (model::Note& note : score.notes) note.tone.pitch = model::Pitch{74, 0};
  model::Header& header = score.header;
  header.title = "渡し船の灯り";
  header.subtitle = "evening";
  header.composer = "nobody";
  header.lyricist = "somebody";
  header.source = "a notebook: page 3";
  header.rights = "public domain";
  header.flute = model::FluteSize{6, 15};
  header.tuning_hz = 442;
  header.beat = model::Rational(1, 2);
  for (model::Measure& measure : score.measures) measure.beat = {1, 2};
  header.tempo = model::Tempo{76, {1, 2}};
  header.key = model::Key{-2, model::Mode::major};
  header.staff = model::StaffMode::sounding;
  header.zero = model::ZeroSign::tube;
  header.unknown = {{"dance", "lion"}};
  ASSERT_THAT(support::broken_invariants(score), IsEmpty());
  EXPECT_EQ(read_sound(trip_file(score).bytes).header, header);
}

TEST(RoundTrip, BringsTheWordsBack) {
  model::Score score = support::small_score(2);
  score.verses = {"1"};
  using enum model::SyllableKind;
  const std::vector<model::Syllable> sung{
      {"1", "lan", begin}, {"1", "terns", end}, {"1", "on", single}, {"1", "み‿な", single},
      {"1", "wa", begin},  {"1", "te", middle}, {"1", "r", end},     {"1", "stop-", single}};
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    score.notes[i].tone.pitch = model::Pitch{74, 0};
    score.notes[i].syllables = {sung[i]};
  }
  MidiWriteOptions options;
  options.lyrics = Lyrics::song;
  const model::Score read = read_sound(trip_file(score, options).bytes);
  EXPECT_THAT(read.verses, ElementsAre("1"));
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    EXPECT_THAT(read.notes[i].syllables, ElementsAre(sung[i])) << i;
  }
}

// Words that look like the signs of other files' lyrics: a hyphen or an underline alone, the
// strokes and braces of karaoke, a word that never ends.
TEST(RoundTrip, BringsWordsOfEveryLookBack) {
  model::Score score = support::small_score(3);
  using enum model::SyllableKind;
  const std::vector<model::Syllable> sung{
      {"1", "-", single}, {"1", "_", single},   {"1", "\\", single},   {"1", "/a", single},
      {"1", "--", begin}, {"1", "-", end},      {"1", "{@x}", single}, {"1", "a- ", single},
      {"1", "@T", begin}, {"1", "\\n", middle}, {"1", "- -", end},     {"1", "み", begin}};
  ASSERT_EQ(sung.size(), score.notes.size());
  for (const std::string verse : {"1", "shoga"}) {
    score.verses = {verse};
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      score.notes[i].tone.pitch = model::Pitch{74, 0};
      score.notes[i].syllables = {sung[i]};
      score.notes[i].syllables.front().verse = verse;
    }
    MidiWriteOptions options;
    options.lyrics = verse == "shoga" ? Lyrics::shoga : Lyrics::song;
    const model::Score read = read_sound(trip_file(score, options).bytes);
    EXPECT_THAT(read.verses, ElementsAre(verse));
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      EXPECT_THAT(read.notes[i].syllables, score.notes[i].syllables) << i;
    }
  }
}

TEST(RoundTrip, BringsSectionsTextsKeysTemposAndFermatasBack) {
  model::Score score = support::small_score(4);
  for (model::Note& note : score.notes) note.tone.pitch = model::Pitch{74, 0};
  score.header.tempo = model::Tempo{90, 1};
  score.notes[6].marks = {model::Mark::fermata};
  score.directions = {{0, 2, model::TextDirection{"softly"}, {}},
                      {1, 0, model::SectionStart{"B"}, {}},
                      {2, 0, model::KeyChange{{3, model::Mode::minor}}, {}},
                      {3, 1, model::TempoChange{{60, 1}}, {}}};
  ASSERT_THAT(support::broken_invariants(score), IsEmpty());
  const model::Score read = read_sound(trip_file(score).bytes);
  ASSERT_EQ(read.directions.size(), score.directions.size());
  for (std::size_t i = 0; i < score.directions.size(); ++i) {
    EXPECT_EQ(read.directions[i].measure, score.directions[i].measure) << i;
    EXPECT_EQ(read.directions[i].onset, score.directions[i].onset) << i;
    EXPECT_EQ(read.directions[i].value, score.directions[i].value) << i;
  }
  EXPECT_THAT(read.notes[6].marks, ElementsAre(model::Mark::fermata));
}

}  // namespace
}  // namespace yubifu::midi
