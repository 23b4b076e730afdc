// Flutes of files under the fingers: measured pipes, festival flutes, local signs.
#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>

#include "base/file.h"
#include "fingering/resolve.h"
#include "fingering/rules.h"
#include "flute/flute_file.h"
#include "support/flute_files.h"
#include "tune.h"

namespace yubifu::fingering {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

flute::Flute example(const std::string& name, double a4_hz = 440) {
  const base::SourceText source(name, *base::read_file(tests::flute_file(name)).value);
  return *flute::read_flute_file(source, model::FlutePath{name}, a4_hz).value;
}

ResolveOptions options_for(const flute::Flute& flute, Origin origin) {
  ResolveOptions options;
  options.origin = origin;
  options.flute = flute.name();
  options.flutes = [flute](const model::FluteName&, double) {
    return base::Outcome<flute::Flute>{flute, {}};
  };
  return options;
}

// Quarter notes with pitches alone, in cents from MIDI key 0.
model::Score melody_of(const std::vector<double>& cents) {
  model::Score score = tune_of_notes(std::vector<Word>(cents.size(), Word{"C5", 1}));
  for (std::size_t i = 0; i < cents.size(); ++i) {
    score.notes[i].tone.pitch = model::pitch_at(cents[i]);
    score.notes[i].tone.spelling.reset();
  }
  return score;
}

bool reports(const base::Diagnostics& diagnostics, const base::Rule& rule) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [&](const base::Diagnostic& found) { return found.rule == &rule; });
}

TEST(OwnFlutes, are_fingered_within_their_bend_limits) {
  std::mt19937 random(20261125);
  std::size_t notes = 0;
  for (const char* name :
       {"equal-holes-seven.json", "equal-holes-six.json", "harvest-six.json",
        "lantern-procession.json", "song-by-fifths-six.json", "third-register-seven.json"}) {
    const flute::Flute flute = example(name);
    for (int tune = 0; tune < 20; ++tune) {
      std::vector<double> wanted;
      for (int note = 0; note < 40; ++note) {
        const std::size_t entry = random() % flute.entries().size();
        const flute::BendLimit limit = flute.bend_limit(entry);
        const int bend = static_cast<int>(random() % unsigned(limit.down + limit.up + 1));
        wanted.push_back(flute.total_cents(entry) + bend - limit.down);
      }
      const auto outcome = resolve(melody_of(wanted), options_for(flute, Origin::sound));
      ASSERT_TRUE(outcome.value) << name;
      EXPECT_FALSE(reports(outcome.diagnostics, rule::out_of_reach)) << name;
      for (std::size_t i = 0; i < wanted.size(); ++i) {
        const model::Tone& tone = outcome.value->score.notes[i].tone;
        const auto entry = flute.find(*tone.fingering);
        ASSERT_TRUE(entry) << name;
        EXPECT_TRUE(flute.bend_limit(*entry).allows(tone.fingering->bend_cents)) << name;
        ASSERT_LE(std::abs(tone.pitch->total_cents() - wanted[i]), 0.5 + 1e-9) << name;
        ++notes;
      }
    }
  }
  EXPECT_EQ(notes, 6u * 20 * 40);
}

// Its own signs, no bends: the sound says which hole pattern it was.
TEST(OwnFlutes, find_local_signs_from_the_sound) {
  const flute::Flute flute = example("lantern-procession.json");
  std::vector<double> sound;
  for (std::size_t i = 0; i < flute.entries().size(); ++i) sound.push_back(flute.total_cents(i));
  const auto outcome = resolve(melody_of(sound), options_for(flute, Origin::sound));
  EXPECT_THAT(signs_of(outcome.value->score), ElementsAre("い", "ろ", "は", "に", "ほ", "へ", "と",
                                                          "ち", "り", "ぬ", "る", "を", "わ"));
}

// A steadying hole in the middle of the pipe: the finger on it may stay where it is. From 五
// ●●○○◎○ to 六 ●○○◎○○ one finger lifts, from 六 to 七 ○○○◎○○ another.
TEST(OwnFlutes, leave_steadying_holes_free_wherever_they_are) {
  const flute::Flute flute = example("harvest-six.json");
  const auto entry = [&](std::string_view sign) {
    return flute.entries()[*flute.find(*model::parse_printed(sign))];
  };
  const EffortTable table;
  EXPECT_EQ(change_effort(table, entry("五"), 0, entry("六"), 0, 1).total(), table.moved_finger);
  EXPECT_EQ(change_effort(table, entry("六"), 0, entry("七"), 0, 1).total(), table.moved_finger);
  // The second pattern of 七, ○●○○○○: from 五 the first hole opens alone.
  EXPECT_EQ(change_effort(table, entry("五"), 0, entry("七"), 1, 1).total(), table.moved_finger);
  EXPECT_EQ(change_effort(table, entry("五"), 0, entry("七"), 0, 1).total(),
            2 * table.moved_finger);
}

// 二 at 152 cents bends up by 30 at most, so re of a tempered scale stays a gap, as does so over 五
// at 655; 三 at 305 is mi flat, 四 bent up is fa, the overblown tube bent down is la.
TEST(OwnFlutes, leave_gaps_where_a_tempered_scale_lies_between_the_holes) {
  const flute::Flute flute = example("equal-holes-seven.json");
  const double ichi = flute.ichi().total_cents();
  std::vector<double> scale;
  for (const double cents : {0, 200, 300, 500, 700, 900, 1100}) scale.push_back(ichi + cents);
  const auto outcome = resolve(melody_of(scale), options_for(flute, Origin::sound));
  const auto signs = signs_of(outcome.value->score);
  EXPECT_EQ(signs[0], "一");
  EXPECT_EQ(signs[1].front(), '?');
  EXPECT_EQ(signs[2], "三↓5");
  EXPECT_EQ(signs[3], "四↑30");
  EXPECT_EQ(signs[4].front(), '?');
  EXPECT_EQ(signs[5], "閉↓37");
  EXPECT_EQ(signs[6], "七↑9");
  EXPECT_TRUE(reports(outcome.diagnostics, rule::out_of_reach));
}

TEST(OwnFlutes, keep_the_fingers_of_a_text) {
  const flute::Flute flute = example("equal-holes-six.json");
  model::Score score = tune_of_signs({{"一"}, {"二"}, {"六"}, {"1"}});
  const auto outcome = resolve(score, options_for(flute, Origin::fingers));
  EXPECT_THAT(outcome.diagnostics, IsEmpty());
  // 540, 599, 1011 and 1072 Hz, as read.
  std::vector<double> sound;
  for (const model::Note& note : outcome.value->score.notes) {
    sound.push_back(std::round(model::frequency_hz(*note.tone.pitch, 440)));
  }
  EXPECT_THAT(sound, ElementsAre(540, 599, 1011, 1072));
}

}  // namespace
}  // namespace yubifu::fingering
