// The cheapest path against all paths, and the choices that players make.
#include "fingering/infer.h"

#include <limits>
#include <random>
#include <string>
#include <string_view>

#include <gmock/gmock.h>

#include "flute/built_in.h"
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
  return {candidates_for(flute, total_cents), haste, haste};
}

std::string text_of(const flute::Flute& flute, const Candidate& candidate) {
  model::Fingering fingering = fingering_of(flute.entries()[candidate.entry]);
  fingering.bend_cents = candidate.bend_cents;
  return model::printed(fingering);
}

// The signs chosen for a row of notes of equal length on size 8.
Signs fingered(const std::vector<std::string_view>& notes, const EffortTable& table = {}) {
  std::vector<Task> tasks;
  for (const std::string_view note : notes) {
    tasks.push_back(task_for(size_eight(), 100.0 * key_of(note)));
  }
  const Path path = cheapest_path(Fingerwork(size_eight(), table), tasks);
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
      std::int64_t more = work.note(here, tasks[task].haste);
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
      Task task = task_for(flute, pitch, 1 + int(random() % 4));
      task.haste_into = 1 + int(random() % 4);
      if (!task.candidates.empty()) paths *= double(task.candidates.size());
      tasks.push_back(std::move(task));
    }
    BruteForce brute{work, tasks, {}, {{}, {}, std::numeric_limits<std::int64_t>::max()}, {}};
    brute.run();
    const Path path = cheapest_path(work, tasks);
    ASSERT_EQ(path.total, brute.best.total) << "round " << round;
    ASSERT_EQ(path.chosen, brute.best.chosen) << "round " << round;
    std::int64_t sum = 0;
    for (const std::int64_t effort : path.effort) sum += effort;
    EXPECT_EQ(sum, path.total);
    for (auto& costs : brute.through) {
      for (std::int64_t& cost : costs) cost -= brute.best.total;
    }
    EXPECT_EQ(detours(work, tasks), brute.through) << "round " << round;
  }
}

TEST(CheapestPath, of_nothing_is_nothing) {
  const Fingerwork work(size_eight(), {});
  EXPECT_EQ(cheapest_path(work, {}).total, 0);
  EXPECT_TRUE(detours(work, {}).empty());
}

// The plain tones have one sign each: the range table of DESIGN for size 8.
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
// beside 六 and 七 (DESIGN, finding the fingering).
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

TEST(Inference, closes_the_top_hole_of_ichi_only_in_a_hurry) {
  const auto pattern_of_ichi = [](int haste) {
    const std::vector<Task> tasks{task_for(size_eight(), 7400, haste),
                                  task_for(size_eight(), 7200, haste),
                                  task_for(size_eight(), 7400, haste)};
    const Path path = cheapest_path(Fingerwork(size_eight(), {}), tasks);
    return tasks[1].candidates[*path.chosen[1]].pattern;
  };
  EXPECT_EQ(pattern_of_ichi(1), 0u);
  EXPECT_EQ(pattern_of_ichi(2), 1u);
}

TEST(Inference, keeps_away_from_what_it_is_told_to_avoid) {
  EffortTable no_half_holes;
  no_half_holes.avoid_half_holes = true;
  EXPECT_EQ(fingered({"B5", "Bb5", "B5"}, no_half_holes), (Signs{"七", "0", "七"}));
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
  EXPECT_EQ(note_effort(table, entries[index("三")], 0, 0, 4).total(), 0);
  EXPECT_EQ(note_effort(table, entries[index("三メ")], 0, 0, 1).half_hole, table.half_hole_usual);
  EXPECT_EQ(note_effort(table, entries[index("五メ")], 0, 0, 1).half_hole, table.half_hole_harder);
  EXPECT_EQ(note_effort(table, entries[index("2メ")], 0, 0, 2).total(), 2 * table.half_hole_hard);
  EXPECT_EQ(note_effort(table, entries[index("三")], 0, -11, 1).bend,
            3 * table.bend_per_five_cents);
  EXPECT_EQ(note_effort(table, entries[index("8")], 0, 0, 1).third_register, table.third_register);
  EXPECT_EQ(note_effort(table, entries[index("0")], 0, 0, 1).total(), table.cross_fingering);
  const NoteEffort overblown = note_effort(table, entries[index("7メ")], 1, 0, 1);
  EXPECT_EQ(overblown.half_hole, 0);
  EXPECT_EQ(overblown.total(), table.cross_fingering + table.second_choice);

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

TEST(Effort, grows_as_notes_get_shorter) {
  EXPECT_EQ(haste(2.0), 1);
  EXPECT_EQ(haste(0.5), 1);
  EXPECT_EQ(haste(0.25), 2);
  EXPECT_EQ(haste(0.125), 3);
  EXPECT_EQ(haste(0.0625), 4);
  EXPECT_EQ(haste(0.0), 4);
}

// What it takes grows with the notes: tests/bench/growth.sh counts it.
TEST(CheapestPath, leads_through_a_long_melody) {
  std::vector<Task> tasks;
  std::mt19937 random(7);
  for (std::size_t i = support::size(20'000); i > 0; --i) {
    tasks.push_back(task_for(size_eight(), 7200 + 100.0 * int(random() % 24)));
  }
  const Path path = cheapest_path(Fingerwork(size_eight(), {}), tasks);
  ASSERT_EQ(path.chosen.size(), tasks.size());
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    EXPECT_EQ(path.chosen[i].has_value(), !tasks[i].candidates.empty()) << i;
  }
}

}  // namespace
}  // namespace yubifu::fingering
