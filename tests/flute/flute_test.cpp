// The table itself: look-up, reach of a pitch, and flutes that are nothing like the built-in ones.
#include "flute/flute.h"

#include <stdexcept>
#include <string>

#include <gmock/gmock.h>

namespace yubifu::flute {
namespace {

using model::HalfHole;
using model::Register;

Entry entry(std::string sign, double cents, std::string_view pattern,
            HalfHole half = HalfHole::none, Register in = Register::low) {
  return {model::Sign(std::move(sign)),
          half,
          cents,
          in,
          half == HalfHole::none ? EntryKind::plain : EntryKind::half_harder,
          {*model::parse_hole_pattern(pattern)}};
}

// Three holes, own signs, a second register that is no octave.
FluteTable small_table() {
  FluteTable table;
  table.title = "small";
  table.name = model::FlutePath{"flutes/small.json"};
  table.ichi = {74, 12.5};
  table.hole_count = 3;
  table.entries = {entry("あ", -310, "xxx"), entry("い", 0, "xxo"),
                   entry("う", 165, "xho", HalfHole::under), entry("う", 260, "xoo"),
                   entry("え", 1180, "xxo", HalfHole::none, Register::second)};
  return table;
}

std::vector<std::string> reached(const Flute& flute, double total_cents) {
  std::vector<std::string> found;
  for (const Reach& reach : flute.reaches(total_cents)) {
    model::Fingering fingering = fingering_of(flute.entries()[reach.entry]);
    fingering.bend_cents = reach.bend_cents;
    found.push_back(model::printed(fingering));
  }
  return found;
}

TEST(Flute, keeps_the_table_of_any_number_of_holes) {
  const Flute flute(small_table());
  EXPECT_EQ(flute.hole_count(), 3u);
  EXPECT_EQ(flute.entries().size(), 5u);
  const model::Fingering upper{model::Sign("え"), HalfHole::none, -7};
  EXPECT_DOUBLE_EQ(*flute.total_cents(upper), 7412.5 + 1180 - 7);
  EXPECT_EQ(flute.sound(upper)->key, 86);
  EXPECT_DOUBLE_EQ(flute.sound(upper)->cents, -14.5);
}

TEST(Flute, finds_nothing_for_gaps_and_unknown_signs) {
  const Flute flute(small_table());
  EXPECT_FALSE(flute.find({}));
  EXPECT_FALSE(flute.find({model::Sign("一"), HalfHole::none, 0}));
  EXPECT_FALSE(flute.find({model::Sign("い"), HalfHole::under, 0}));
  EXPECT_FALSE(flute.sound({}));
}

TEST(Flute, takes_the_half_hole_nearest_to_a_semitone_above_for_ka) {
  const Flute flute(small_table());
  EXPECT_FALSE(flute.find({model::Sign("い"), HalfHole::over, 0}));
  FluteTable nearer = small_table();
  nearer.entries[2].cents = 140;
  EXPECT_EQ(Flute(nearer).find({model::Sign("い"), HalfHole::over, 0}), 2u);
  FluteTable own = nearer;
  own.entries.push_back(entry("い", 60, "hxo", HalfHole::over));
  EXPECT_EQ(Flute(own).find({model::Sign("い"), HalfHole::over, 0}), 5u);
}

TEST(Flute, lists_what_reaches_a_pitch_in_table_order) {
  const Flute flute = built_in_flute({8, 0}, 440);
  using Signs = std::vector<std::string>;
  EXPECT_EQ(reached(flute, 7200), Signs{"一"});
  EXPECT_EQ(reached(flute, 8200), (Signs{"七メ", "0"}));
  EXPECT_EQ(reached(flute, 9400), Signs{"7メ"});
  EXPECT_EQ(reached(flute, 7230), Signs{"一↑30"});
  EXPECT_EQ(reached(flute, 7231), Signs{});
  EXPECT_EQ(reached(flute, 7150), Signs{"一↓50"});
  EXPECT_EQ(reached(flute, 7149), Signs{});
  EXPECT_EQ(reached(flute, 8230), Signs{"0↑30"});
  EXPECT_EQ(reached(flute, 8220), (Signs{"七メ↑20", "0↑20"}));
  EXPECT_EQ(reached(flute, 7000), Signs{});
  EXPECT_EQ(reached(flute, 7450.4), Signs{});
  EXPECT_EQ(reached(flute, 10300), Signs{"5̇"});
  EXPECT_EQ(reached(flute, 10400), Signs{});
  EXPECT_EQ(reached(flute, -1e6), Signs{});
  EXPECT_EQ(reached(flute, 1e6), Signs{});
}

TEST(Flute, reaches_what_it_sounds) {
  for (int size = 1; size <= 13; ++size) {
    const Flute flute = built_in_flute({size, size - 7}, 440);
    for (std::size_t i = 0; i < flute.entries().size(); ++i) {
      EXPECT_THAT(flute.reaches(flute.total_cents(i)), testing::Contains(Reach{i, 0}));
    }
  }
}

TEST(Flute, refuses_a_table_that_is_not_sound) {
  FluteTable empty = small_table();
  empty.entries.clear();
  EXPECT_THROW(Flute{empty}, std::invalid_argument);
  FluteTable twice = small_table();
  twice.entries.push_back(twice.entries.front());
  EXPECT_THROW(Flute{twice}, std::invalid_argument);
  FluteTable holes = small_table();
  holes.hole_count = 4;
  EXPECT_THROW(Flute{holes}, std::invalid_argument);
  FluteTable bare = small_table();
  bare.entries[0].patterns.clear();
  EXPECT_THROW(Flute{bare}, std::invalid_argument);
}

}  // namespace
}  // namespace yubifu::flute
