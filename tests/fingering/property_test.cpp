// What must hold of every score: finger the sound of a playable score again and it sounds the
// same.
#include <cmath>

#include <gmock/gmock.h>

#include "fingering/resolve.h"
#include "fingering/rules.h"
#include "fingering/tones.h"
#include "support/invariants.h"
#include "support/rounds.h"
#include "support/same_music.h"
#include "support/score_generator.h"
#include "tune.h"

namespace yubifu::fingering {
namespace {

using testing::IsEmpty;

// Everything that fingering looks at, on built-in flutes; bends as far as every note can follow.
support::GeneratorOptions playable() {
  support::GeneratorOptions options;
  options.only_built_in_signs = true;
  options.most_bend_cents = 20;
  options.gaps = false;
  options.flute_changes = false;
  return options;
}

bool any_rule(const base::Diagnostics& diagnostics, const base::Rule& rule) {
  for (const base::Diagnostic& d : diagnostics) {
    if (d.rule == &rule) return true;
  }
  return false;
}

// Without fingers, as a MIDI file gives it.
model::Score as_sound(model::Score score) {
  const auto strip = [](model::Tone& tone) { tone.fingering.reset(); };
  for (model::Note& note : score.notes) {
    for (model::Tone& tone : note.grace_before) strip(tone);
    strip(note.tone);
    for (model::Tone& tone : note.grace_after) strip(tone);
  }
  return score;
}

TEST(Property, the_sound_of_a_playable_score_is_fingered_to_the_same_sound) {
  std::size_t tones = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const auto there = resolve(support::random_score(seed, playable()), {});
    ASSERT_TRUE(there.value) << seed;
    // The generator knows no table: it also makes 一メ and 三カ.
    if (base::has_errors(there.diagnostics)) continue;
    ResolveOptions options;
    options.origin = Origin::sound;
    const auto back = resolve(as_sound(there.value->score), options);
    ASSERT_TRUE(back.value) << seed;
    EXPECT_FALSE(any_rule(back.diagnostics, rule::out_of_reach)) << seed;
    EXPECT_FALSE(any_rule(back.diagnostics, rule::bend_too_far)) << seed;
    EXPECT_THAT(support::broken_invariants(back.value->score), IsEmpty()) << seed;
    for (const TimedTone& tone : timed_tones(there.value->score)) {
      const auto& before = *tone_at(there.value->score, tone.place).pitch;
      const auto& after = *tone_at(back.value->score, tone.place).pitch;
      ASSERT_LE(std::abs(before.total_cents() - after.total_cents()), 0.5) << seed;
      ++tones;
    }
  }
  EXPECT_GT(tones, 2000u);
}

TEST(Property, resolving_twice_changes_nothing) {
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const auto once = resolve(support::random_score(seed), {});
    ASSERT_TRUE(once.value) << seed;
    EXPECT_THAT(support::broken_invariants(once.value->score), IsEmpty()) << seed;
    const auto twice = resolve(once.value->score, {});
    ASSERT_TRUE(twice.value) << seed;
    EXPECT_EQ(support::first_difference(once.value->score, twice.value->score), std::nullopt);
    EXPECT_EQ(notes_of(once.value->score), notes_of(twice.value->score)) << seed;
    EXPECT_EQ(rule_names(once.diagnostics), rule_names(twice.diagnostics)) << seed;
  }
}

TEST(Property, fingers_of_a_text_never_change) {
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const model::Score score = support::random_score(seed);
    const auto done = resolve(score, {});
    EXPECT_EQ(support::first_difference(score, done.value->score), std::nullopt) << seed;
  }
}

// What it takes grows with the notes: tests/bench/growth.sh counts it.
TEST(Property, a_long_melody_is_fingered_to_its_end) {
  std::vector<Word> words;
  const std::vector<std::string_view> melody{"C5", "D5", "Eb5", "Bb5", "C6", "Ab5", "G5", "F7"};
  const std::size_t notes = support::size(20'000);
  for (std::size_t i = 0; i < notes; ++i) words.push_back({melody[i % melody.size()], 1});
  ResolveOptions options;
  options.origin = Origin::staff;
  const auto outcome = resolve(tune_of_notes(words), options);
  ASSERT_EQ(outcome.value->score.notes.size(), notes);
  for (const model::Note& note : outcome.value->score.notes) {
    ASSERT_TRUE(note.tone.fingering && !note.tone.fingering->is_gap()) << note.measure;
  }
}

}  // namespace
}  // namespace yubifu::fingering
