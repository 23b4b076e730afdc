// The cheapest path against all paths, and the choices that players make.
#include <limits>
#include <random>
#include <string>
#include <string_view>

#include <gmock/gmock.h>

#include "fingering/melody.h"
#include "flute/flute.h"
#include "support/rounds.h"

namespace yubifu::fingering {
namespace {

using Signs = std::vector<std::string>;

const flute::Flute& size_eight() {
  static const flute::Flute flute = flute::built_in_flute({8, 0}, 440);
  return flute;
}

int key_of(std::string_view note) {
  return model::midi_key(*model::parse_spelling(note));
}

Task task_for(const flute::Flute& flute, double total_cents, int haste = 1) {
  return {candidates_for(flute, total_cents), haste};
}

std::string text_of(const flute::Flute& flute, const Candidate& candidate) {
  model::Fingering fingering = fingering_of(flute.entries()[candidate.entry]);
  fingering.bend_cents = candidate.bend_cents;
  return model::printed(fingering);
}

// The signs chosen for a row of notes of equal length on size 8, in seconds.
Signs fingered(const std::vector<std::string_view>& notes, const EffortTable& table = {},
               double seconds = 1) {
  std::vector<Task> tasks;
  for (const std::string_view note : notes) {
    tasks.push_back(task_for(size_eight(), 100.0 * key_of(note), haste(seconds)));
  }
  const Path path = cheapest_path({Fingerwork(size_eight(), table)}, tasks);
  Signs signs;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    signs.push_back(path.chosen[i] ? text_of(size_eight(), tasks[i].candidates[*path.chosen[i]])
                                   : "");
  }
  return signs;
}

// All paths, in the order that decides between equals.
struct BruteForce {
  const Fingerwork& work;
  const std::vector<Task>& tasks;
  std::vector<std::optional<std::size_t>> at;
  Path best{{}, {}, std::numeric_limits<std::int64_t>::max()};
  std::vector<std::vector<std::int64_t>> through;

  void run() {
    for (const Task& task : tasks) {
      through.emplace_back(task.candidates.size(), std::numeric_limits<std::int64_t>::max());
    }
    step(0, 0);
  }

  void step(std::size_t task, std::int64_t effort) {
    if (task == tasks.size()) {
      for (std::size_t i = 0; i < task; ++i) {
        if (at[i]) through[i][*at[i]] = std::min(through[i][*at[i]], effort);
      }
      if (effort < best.total) best = {at, {}, effort};
      return;
    }
    if (tasks[task].candidates.empty()) {
      at.push_back(std::nullopt);
      step(task + 1, effort);
      at.pop_back();
      return;
    }
    for (std::size_t i = 0; i < tasks[task].candidates.size(); ++i) {
      const Candidate& here = tasks[task].candidates[i];
      std::int64_t more = work.note(here).total();
      if (task > 0 && at.back()) {
        more += work.change(tasks[task - 1].candidates[*at.back()], here, tasks[task].haste_into);
      }
      at.push_back(i);
      step(task + 1, effort + more);
      at.pop_back();
    }
  }
};

// A flute of few pitches and many patterns, so that there is much to choose and much is equal.
flute::Flute crowded_flute(std::mt19937& random) {
  flute::FluteTable table;
  table.hole_count = 4;
  const std::array<model::Hole, 4> holes{model::Hole::closed, model::Hole::open, model::Hole::half,
                                         model::Hole::steadying};
  const auto pick = [&](int below) { return static_cast<int>(random() % unsigned(below)); };
  for (int i = 0; i < 12; ++i) {
    flute::Entry entry{model::Sign(std::to_string(i)),
                       model::HalfHole::none,
                       100.0 * pick(4),
                       static_cast<model::Register>(pick(4)),
                       static_cast<flute::EntryKind>(pick(5)),
                       {}};
    for (int pattern = 0; pattern <= pick(2); ++pattern) {
      model::HolePattern made;
      for (int hole = 0; hole < 4; ++hole) {
        made.holes.push_back(holes[static_cast<std::size_t>(pick(4))]);
      }
      entry.patterns.push_back(made);
    }
    table.entries.push_back(entry);
  }
  return flute::Flute(std::move(table));
}

TEST(CheapestPath, is_the_first_of_the_cheapest_of_all_paths) {
  std::mt19937 random(20240401);
  for (int round = 0; round < 300; ++round) {
    const flute::Flute flute = round % 3 == 0 ? size_eight() : crowded_flute(random);
    const Fingerwork work(flute, {});
    std::vector<Task> tasks;
    double paths = 1;
    while (tasks.size() < 9 && paths < 3e4) {
      const double lowest = flute.ichi().total_cents();
      const double pitch = round % 3 == 0 ? lowest + 100 * int(random() % 30) - 300
                                          : lowest + 100 * int(random() % 5);
      Task task = task_for(flute, pitch, 1 + int(random() % 5));
      if (!task.candidates.empty()) paths *= double(task.candidates.size());
      tasks.push_back(std::move(task));
    }
    BruteForce brute{work, tasks, {}, {{}, {}, std::numeric_limits<std::int64_t>::max()}, {}};
    brute.run();
    const Path path = cheapest_path({work}, tasks);
    ASSERT_EQ(path.total, brute.best.total) << "round " << round;
    ASSERT_EQ(path.chosen, brute.best.chosen) << "round " << round;
    std::int64_t sum = 0;
    for (const std::int64_t effort : path.effort) sum += effort;
    EXPECT_EQ(sum, path.total);
    for (auto& costs : brute.through) {
      for (std::int64_t& cost : costs) cost -= brute.best.total;
    }
    EXPECT_EQ(detours({work}, tasks), brute.through) << "round " << round;
  }
}

TEST(CheapestPath, of_nothing_is_nothing) {
  const Fingerwork work(size_eight(), {});
  EXPECT_EQ(cheapest_path({work}, {}).total, 0);
  EXPECT_TRUE(detours({work}, {}).empty());
}

TEST(CheapestPath, begins_anew_where_the_flute_changes) {
  const std::vector<Fingerwork> works{Fingerwork(size_eight(), {}), Fingerwork(size_eight(), {})};
  // 六 0 on the first flute, 七 七メ 七 in haste on the second: on one flute it would be 六 七メ
  // 七.
  std::vector<Task> both;
  for (const int key : {81, 82}) both.push_back(task_for(size_eight(), 100.0 * key));
  for (const int key : {83, 82, 83}) both.push_back(task_for(size_eight(), 100.0 * key, 2));
  const std::vector<Task> first(both.begin(), both.begin() + 2);
  const std::vector<Task> second(both.begin() + 2, both.end());
  const Path one = cheapest_path(works, both);
  for (std::size_t i = 2; i < both.size(); ++i) both[i].flute = 1;
  const Path two = cheapest_path(works, both);
  EXPECT_NE(two.chosen, one.chosen);
  auto chosen = cheapest_path(works, first).chosen;
  for (const auto& choice : cheapest_path(works, second).chosen) chosen.push_back(choice);
  EXPECT_EQ(two.chosen, chosen);
  EXPECT_EQ(two.total, cheapest_path(works, first).total + cheapest_path(works, second).total);
  auto alone = detours(works, first);
  for (const auto& costs : detours(works, second)) alone.push_back(costs);
  EXPECT_EQ(detours(works, both), alone);
}

// The plain tones have one sign each: the range table of Japanese Wikipedia, 篠笛, for size 8.
TEST(Inference, finds_the_plain_fingers_of_a_scale) {
  EXPECT_EQ(fingered({"A4", "C5", "D5", "E5", "F5", "G5", "A5", "B5", "C6"}),
            (Signs{"筒", "一", "二", "三", "四", "五", "六", "七", "1"}));
  EXPECT_EQ(fingered({"D6", "E6", "F6", "G6", "A6", "B6", "C7", "D7", "E7", "F7", "G7"}),
            (Signs{"2", "3", "4", "5", "6", "7", "8", "2̇", "3̇", "4̇", "5̇"}));
}

TEST(Inference, leaves_a_gap_rather_than_a_wrong_number) {
  EXPECT_EQ(fingered({"G4", "Bb4", "B4", "C5", "G#7", "C#7"}), (Signs{"", "", "", "一", "", ""}));
}

// 0 stays in the breath of the second register: the easier choice beside 1 and 2, the harder one
// beside 六 and 七.
TEST(Inference, chooses_zero_beside_one_and_two_and_the_half_hole_beside_seven) {
  EXPECT_EQ(fingered({"C6", "Bb5", "C6"}), (Signs{"1", "0", "1"}));
  EXPECT_EQ(fingered({"D6", "Bb5", "D6"}), (Signs{"2", "0", "2"}));
  EXPECT_EQ(fingered({"B5", "Bb5", "B5"}), (Signs{"七", "七メ", "七"}));
  EXPECT_EQ(fingered({"A5", "Bb5", "A5"}), (Signs{"六", "0", "六"}));
  const Fingerwork work(size_eight(), {});
  const auto cost = [&](std::string_view beside) {
    const Candidate zero{*size_eight().find(*model::parse_printed("0")), 0, 0};
    const Candidate other{*size_eight().find(*model::parse_printed(beside)), 0, 0};
    return work.change(zero, other, 1);
  };
  EXPECT_LT(cost("1"), cost("六"));
  EXPECT_LT(cost("1"), cost("七"));
  EXPECT_LT(cost("2"), cost("六"));
  EXPECT_LT(cost("2"), cost("七"));
}

// A sign is played as the player of the sign plays it: 一 with the top hole open, 7メ half-holed.
TEST(Inference, takes_the_preferred_pattern_of_each_sign_at_any_speed) {
  for (const flute::Entry& entry : size_eight().entries()) {
    const std::size_t index = *size_eight().find(fingering_of(entry));
    for (const Candidate& one : candidates_for(size_eight(), size_eight().total_cents(index))) {
      EXPECT_EQ(one.pattern, 0u) << printed(entry);
    }
  }
}

// One finger for a run or turn, the clear tone of 0 for a slow one and beside 1 and 2. By hand, in
// points, at a second a note and a little under 0.75 seconds (twice for what the fingers do):
// 六 0 六 is 12 + 2 + 12 = 26 and 50, 六 七メ 六 is 2 + 25 + 2 = 29 and 33; 六 0 七 is 28 and 54,
// 六 七メ 七 29 and 33; 七 0 七 is 30 and 58, 七 七メ 七 29 and 33; 2 0 2 is 16 and 30, 2 七メ 2 is
// 53 and 81; 1 0 1 is 16 and 30.
TEST(Inference, takes_the_half_hole_in_runs_and_zero_where_there_is_time_or_the_breath_stays) {
  const auto middle = [](std::string_view before, std::string_view after, double seconds) {
    return fingered({before, "Bb5", after}, {}, seconds)[1];
  };
  for (const double seconds : {1.0, 0.75}) {
    EXPECT_EQ(middle("A5", "A5", seconds), "0");
    EXPECT_EQ(middle("A5", "B5", seconds), "0");
    EXPECT_EQ(middle("B5", "A5", seconds), "0");
    EXPECT_EQ(fingered({"A5", "F5", "A5", "Bb5"}, {}, seconds).back(), "0");
  }
  for (const double seconds : {0.74, 0.5, 0.3, 0.15, 0.08}) {
    EXPECT_EQ(middle("A5", "A5", seconds), "七メ") << seconds;
    EXPECT_EQ(middle("A5", "B5", seconds), "七メ") << seconds;
    EXPECT_EQ(middle("B5", "A5", seconds), "七メ") << seconds;
    EXPECT_EQ(fingered({"G5", "A5", "Bb5", "A5", "G5"}, {}, seconds)[2], "七メ") << seconds;
  }
  for (const double seconds : {2.0, 0.75, 0.5, 0.3, 0.15, 0.05}) {
    EXPECT_EQ(middle("B5", "B5", seconds), "七メ") << seconds;
    EXPECT_EQ(middle("C6", "C6", seconds), "0") << seconds;
    EXPECT_EQ(middle("D6", "D6", seconds), "0") << seconds;
    EXPECT_EQ(middle("D6", "C6", seconds), "0") << seconds;
  }
}

TEST(Inference, keeps_away_from_what_it_is_told_to_avoid) {
  EffortTable no_half_holes;
  no_half_holes.avoid_half_holes = true;
  EXPECT_EQ(fingered({"B5", "Bb5", "B5"}, no_half_holes), (Signs{"七", "0", "七"}));
  EffortTable no_cross;
  no_cross.avoid_cross_fingering = true;
  EXPECT_EQ(fingered({"C6", "Bb5", "C6"}, no_cross), (Signs{"1", "七メ", "1"}));
  // Nothing else gives E♭: a note that must be avoided is still better than a gap.
  EXPECT_EQ(fingered({"Eb5"}, no_half_holes), (Signs{"三メ"}));
}

TEST(Inference, can_be_held_to_plain_entries) {
  const auto plain = [](double cents) {
    Signs signs;
    for (const Candidate& c : candidates_for(size_eight(), cents, Allowed::plain)) {
      signs.push_back(text_of(size_eight(), c));
    }
    return signs;
  };
  EXPECT_EQ(plain(8200), Signs{"0"});
  EXPECT_EQ(plain(7500), Signs{});
  EXPECT_EQ(plain(7210), Signs{});
  EXPECT_EQ(plain(9600), Signs{"8"});
}

TEST(Effort, counts_each_reason) {
  const auto& entries = size_eight().entries();
  const auto index = [&](std::string_view text) {
    return *size_eight().find(*model::parse_printed(text));
  };
  const EffortTable table;
  const auto note = [&](std::string_view sign, std::size_t pattern = 0, int bend = 0) {
    return note_effort(table, entries[index(sign)], pattern, bend);
  };
  EXPECT_EQ(note("三").total(), 0);
  EXPECT_EQ(note("三メ").half_hole, table.half_hole_usual);
  EXPECT_EQ(note("7メ").total(), table.half_hole_usual);
  EXPECT_EQ(note("五メ").half_hole, table.half_hole_harder);
  EXPECT_EQ(note("2メ").total(), table.half_hole_hard);
  EXPECT_EQ(note("三", 0, -11).bend, 3 * table.bend_per_five_cents);
  EXPECT_EQ(note("8").third_register, table.third_register);
  EXPECT_EQ(note("0").total(), table.cross_fingering);
  // The second pattern of 7メ, that of 0 overblown.
  EXPECT_EQ(note("7メ", 1).half_hole, 0);
  EXPECT_EQ(note("7メ", 1).total(), table.cross_fingering);

  // 六 ●○○○○○◎ to 0 ●○●●●●●: four fingers close, the foot hole is free; the breath changes.
  const ChangeEffort up = change_effort(table, entries[index("六")], 0, entries[index("0")], 0, 1);
  EXPECT_EQ(up.fingers, 4 * table.moved_finger);
  EXPECT_EQ(up.crossing, 0);
  EXPECT_EQ(up.register_break, table.register_break);
  // 0 ●○●●●●● to 1 ○●●●●●○: two lift while one closes, in one breath.
  const ChangeEffort on = change_effort(table, entries[index("0")], 0, entries[index("1")], 0, 3);
  EXPECT_EQ(on.fingers, 3 * table.moved_finger);
  EXPECT_EQ(on.crossing, table.crossing_pair);
  EXPECT_EQ(on.register_break, 0);
  EXPECT_EQ(on.total(), 3 * (on.fingers + on.crossing));
  // 筒 ●●●●●●● to 8 ○●●○○○●: four fingers lift, two registers.
  const ChangeEffort far = change_effort(table, entries[index("筒")], 0, entries[index("8")], 0, 1);
  EXPECT_EQ(far.fingers, 4 * table.moved_finger);
  EXPECT_EQ(far.register_break, 2 * table.register_break);
}

// A beat at 80 is 0.75 seconds, an eighth at 100 0.3; sums of times may miss them by a trifle.
TEST(Effort, counts_more_often_as_there_is_less_time) {
  EXPECT_EQ(haste(2.0), 1);
  EXPECT_EQ(haste(0.75 - 1e-12), 1);
  EXPECT_EQ(haste(0.74), 2);
  EXPECT_EQ(haste(0.31), 2);
  EXPECT_EQ(haste(0.30 + 1e-12), 3);
  EXPECT_EQ(haste(0.16), 3);
  EXPECT_EQ(haste(0.15), 4);
  EXPECT_EQ(haste(0.09), 4);
  EXPECT_EQ(haste(0.08), 5);
  EXPECT_EQ(haste(0.0), 5);
}

TEST(Effort, knows_flutes_that_stretch_the_hand_or_crowd_the_fingers) {
  EXPECT_EQ(stretch_of(model::FluteSize{model::Rational(5, 2), 0}), Stretch::long_flute);
  EXPECT_EQ(stretch_of(model::FluteSize{3, 0}), Stretch::none);
  EXPECT_EQ(stretch_of(model::FluteSize{10, 0}), Stretch::none);
  EXPECT_EQ(stretch_of(model::FluteSize{model::Rational(21, 2), 0}), Stretch::short_flute);
  EXPECT_EQ(stretch_of(model::FlutePath{"own.json"}), Stretch::none);
}

// What it takes grows with the notes: tests/bench/growth.sh counts it.
TEST(CheapestPath, leads_through_a_long_melody) {
  std::vector<Task> tasks;
  std::mt19937 random(7);
  for (std::size_t i = support::size(20'000); i > 0; --i) {
    tasks.push_back(task_for(size_eight(), 7200 + 100.0 * int(random() % 24)));
  }
  const Path path = cheapest_path({Fingerwork(size_eight(), {})}, tasks);
  ASSERT_EQ(path.chosen.size(), tasks.size());
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    EXPECT_EQ(path.chosen[i].has_value(), !tasks[i].candidates.empty()) << i;
  }
}

}  // namespace
}  // namespace yubifu::fingering
