// Timing of tones, octaves, explanation and figures.
#include "fingering/melody.h"

#include <gmock/gmock.h>

#include "fingering/tones.h"
#include "fingering/wording.h"
#include "flute/flute.h"
#include "tune.h"

namespace yubifu::fingering {
namespace {

using testing::DoubleEq;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(TimedTones, count_seconds_through_rests_and_tempo_changes) {
  model::Score score = tune_of_signs({{"一"}, {"二", 3}, {"三", 2}, {"四"}});
  score.notes[1].duration = 1;  // two beats of rest after it
  score.directions.push_back({1, 1, model::TempoChange{{60, 1}}, {}});
  const auto tones = timed_tones(score);
  ASSERT_EQ(tones.size(), 4u);
  EXPECT_DOUBLE_EQ(tones[0].seconds_into, 0);
  EXPECT_DOUBLE_EQ(tones[0].seconds, 0.5);  // 120 quarters a minute where nothing is said (SMF 1.1)
  EXPECT_DOUBLE_EQ(tones[1].seconds_into, 0.5);
  EXPECT_DOUBLE_EQ(tones[1].seconds, 0.5);
  EXPECT_DOUBLE_EQ(tones[2].seconds_into, 1.5);
  EXPECT_DOUBLE_EQ(tones[3].seconds_into, 1.5);  // one beat at 120, one at 60
  EXPECT_DOUBLE_EQ(tones[3].seconds, 1.0);
}

TEST(TimedTones, give_grace_notes_an_eighth_of_a_quarter_and_at_most_half) {
  model::Score score = tune_of_signs({{"一", 2}, {"二", model::Rational(1, 4)}});
  const model::Tone grace = score.notes[0].tone;
  score.notes[0].grace_before = {grace};
  score.notes[0].grace_after = {grace};
  score.notes[1].grace_before = {grace, grace};
  score.header.tempo = model::Tempo{60, 1};
  const auto tones = timed_tones(score);
  ASSERT_EQ(tones.size(), 6u);
  EXPECT_EQ(tones[0].place, (TonePlace{0, ToneRole::grace_before, 0}));
  EXPECT_DOUBLE_EQ(tones[0].seconds, 0.125);
  EXPECT_DOUBLE_EQ(tones[1].seconds, 1.75);
  EXPECT_DOUBLE_EQ(tones[1].seconds_into, 0.125);
  EXPECT_DOUBLE_EQ(tones[2].seconds_into, 1.75);
  EXPECT_DOUBLE_EQ(tones[3].seconds_into, 0.125);
  EXPECT_DOUBLE_EQ(tones[3].seconds, 0.0625);
  EXPECT_EQ(tones[5].place, (TonePlace{1, ToneRole::main, 0}));
  EXPECT_DOUBLE_EQ(tones[5].seconds, 0.125);
}

class Octaves : public testing::Test {
 protected:
  flute::Flute flute_ = flute::built_in_flute({8, 0}, 440);
  std::vector<Fingerwork> works_{Fingerwork(flute_, {})};

  int best(const std::vector<double>& pitches) {
    std::vector<MelodyTone> tones;
    for (const double pitch : pitches) tones.push_back({0, {}, pitch, 1});
    return in_best_octave(tones, works_, 0, Allowed::everything).lie.octave;
  }
};

TEST_F(Octaves, leave_out_what_they_must) {
  EXPECT_EQ(best({7200, 7400}), 0);     // C5 D5 lie in the low register
  EXPECT_EQ(best({6000, 6200}), 1);     // C4 D4 do not
  EXPECT_EQ(best({3600}), 3);           // C2
  EXPECT_EQ(best({10800, 10900}), -2);  // C8 D♭8: 1 2メ rather than a gap at C♯7
  EXPECT_EQ(best({}), 0);
  EXPECT_EQ(best({7040}), 0);  // nothing reaches it in any octave
}

TEST_F(Octaves, take_the_least_effort_then_the_smallest_shift) {
  // C6 to C7 needs the third register; an octave lower it does not.
  EXPECT_EQ(best({8400, 8600, 8800, 9600}), -1);
  EXPECT_EQ(best({8400, 8600}), 0);
}

TEST(Melody, another_flute_is_a_fresh_start) {
  const flute::Flute a = flute::built_in_flute({8, 0}, 440);
  const flute::Flute b = flute::built_in_flute({6, 0}, 440);
  const std::vector<Fingerwork> works{Fingerwork(a, {}), Fingerwork(b, {})};
  const std::vector<MelodyTone> tones{
      {0, {}, 7200.0, 1}, {1, {}, 8600.0, 1}, {1, {}, std::nullopt, 1}};
  const FingeredMelody melody = finger(tones, works, 0, Allowed::everything);
  EXPECT_EQ(melody.path.total, 0);
  EXPECT_TRUE(melody.path.chosen[1]);
  EXPECT_FALSE(melody.path.chosen[2]);
}

std::vector<std::string> explained(model::Score score) {
  score.header.flute = model::FluteSize{8, 0};
  score.header.tempo = model::Tempo{60, 1};
  ResolveOptions options;
  options.origin = Origin::staff;
  options.explain = Explain::every_tone;
  return resolve(std::move(score), options).value->explanation;
}

TEST(Explanation, tells_candidates_effort_and_reason) {
  EXPECT_THAT(
      explained(tune_of_notes({{"A5"}, {"Bb5"}, {"A5"}, {"B4"}})),
      ElementsAre(
          "bar 1: A5 六: the only way to play it",  //
          "  * 六        ●○○○○○◎  note 0, detour 0", "bar 1: Bb5 0: 七メ ◐○○○○○◎ would cost 3 more",
          "    七メ      ◐○○○○○◎  note 25 (half hole 25), change 2 (fingers 2), detour 3",
          "  * 0         ●○●●●●●  note 2 (cross-fingering 2), change 12 (fingers 8, register break "
          "4), detour 0",
          "bar 1: A5 六: the only way to play it",
          "  * 六        ●○○○○○◎  note 0, change 12 (fingers 8, register break 4), detour 0",
          "bar 1: B4 gap: no fingering of this flute reaches it"));
}

TEST(Explanation, tells_what_haste_counts) {
  EXPECT_THAT(
      explained(tune_of_notes({{"B5"}, {"A5", {1, 2}}, {"Bb5", {1, 2}}, {"A5"}})),
      testing::Contains("  * 七メ      ◐○○○○○◎  note 25 (half hole 25), change 4 (fingers 2; "
                        "short, so 2 times), detour 0"));
}

TEST(Explanation, is_made_only_when_asked_for) {
  ResolveOptions options;
  EXPECT_THAT(resolve(sakura(), options).value->explanation, IsEmpty());
}

Summary summary_of(model::Score score) {
  return summarize(*resolve(std::move(score), {}).value,
                   [](const model::Measure&) { return true; });
}

TEST(Summary, counts_what_a_player_wants_to_know) {
  model::Score score =
      tune_of_signs({{"三"}, {"三メ↓10"}, {"五↑5"}, {"8"}, {"2̇"}, {"?C4"}, {"0"}, {"1カ"}});
  score.header.flute = model::FluteSize{6, 0};
  score.notes[0].grace_before = {score.notes[0].tone};
  const Summary summary = summary_of(std::move(score));
  EXPECT_EQ(summary, (Summary{"6", 0, 9, 2, 2, 2, 1, 2}));
  EXPECT_EQ(summary_of(sakura()).loud, 0u);
  // Loud is what is high: 7 on size 9 is C7, 2,093 Hz, though in the second register; on size 8 it
  // is B6, 1,976 Hz.
  score = tune_of_signs({{"6", 3}, {"7"}});
  score.header.flute = model::FluteSize{9, 0};
  EXPECT_EQ(summary_of(score), (Summary{"9", 0, 2, 0, 0, 0, 0, 1}));
  score.header.flute = model::FluteSize{8, 0};
  EXPECT_EQ(summary_of(score).loud, 0u);
}

}  // namespace
}  // namespace yubifu::fingering
