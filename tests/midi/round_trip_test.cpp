// Scores written as MIDI and read again.
#include <random>

#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/tick_grid.h"
#include "midi/writer.h"
#include "model/invariants.h"
#include "model/play_out.h"
#include "model/same_music.h"
#include "support/score_generator.h"

namespace yubifu::midi {
namespace {

using testing::IsEmpty;

// A random score whose tones have random pitches, some of them bent: what the fingers would sound
// does not matter here.
model::Score pitched_score(std::uint64_t seed, const support::GeneratorOptions& options) {
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

std::string written(const model::Score& score, const MidiWriteOptions& options = {}) {
  auto outcome = write_midi(score, options);
  for (const auto& diagnostic : outcome.diagnostics) {
    EXPECT_EQ(diagnostic.severity == base::Severity::error, false) << diagnostic.message;
  }
  return outcome.value.value_or(std::string());
}

support::GeneratorOptions without_graces() {
  support::GeneratorOptions options;
  options.grace_notes = false;
  return options;
}

TEST(RoundTrip, KeepsPitchAndTimeOfRandomScores) {
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < 400; ++seed) {
    const model::Score score = pitched_score(seed, without_graces());
    if (score.notes.empty()) continue;
    const model::Score played = model::play_out(score).value->score;
    // Times that no number of ticks holds exactly go to the nearest tick, with a warning.
    if (!choose_grid(played, {}).exact) continue;
    ++compared;
    const model::Score read = read_sound(written(score));
    const auto difference = model::first_difference(played, read, model::Sameness::pitch_and_time);
    EXPECT_FALSE(difference) << "seed " << seed << ": " << *difference;
  }
  EXPECT_GT(compared, 100U);
}

}  // namespace
}  // namespace yubifu::midi
