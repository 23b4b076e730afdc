// The octave that suits a flute: staff melodies on size 8, worked through by hand.
//
// Points: a finger that moves is 2, a pair of which one lifts while the other closes 1, a step of
// the breath 4, all twice at less than 0.75 seconds a note; a third-register note 12 and, with the
// change into it, double; a note without fingers 150.
#include <string>

#include <gmock/gmock.h>

#include "fingering/melody.h"
#include "fingering/rank.h"
#include "flute/flute.h"
#include "tune.h"

namespace yubifu::fingering {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

const model::Rational kHalf(1, 2);

// A staff melody that names no flute, in 4/4.
model::Score staff(const std::vector<Word>& words, int tempo = 120) {
  model::Score score = tune_of_notes(words);
  score.header.tempo = model::Tempo{tempo, 1};
  return score;
}

base::Outcome<Resolved> on_size(int size, const model::Score& score,
                                OctaveChoice octave = UsualOctave{}) {
  ResolveOptions options;
  options.origin = Origin::staff;
  options.flute = model::FluteSize{size, 0};
  options.octave = octave;
  return resolve(score, options);
}

// The octaves by which a melody moves on size 8, and the weight there.
std::pair<int, std::int64_t> lying(const model::Score& score) {
  ResolveOptions options;
  options.origin = Origin::staff;
  const std::vector<flute::Flute> eight{flute::built_in_flute({8, 0}, 440)};
  RankOptions ranking;
  ranking.flutes = eight;
  const Fit fit = rank_flutes(*resolve(score, options).value, ranking).front();
  EXPECT_EQ(on_size(8, score).value->octave_shift, fit.octave);
  return {fit.octave, fit.effort};
}

// Fifteen notes of the Ode to Joy (public domain), from C4.
const std::vector<Word> kFifteenNotes{{"E4"}, {"E4"}, {"F4"}, {"G4"}, {"G4"},
                                      {"F4"}, {"E4"}, {"D4"}, {"C4"}, {"C4"},
                                      {"D4"}, {"E4"}, {"E4"}, {"D4"}, {"D4"}};

// 三三四五五四三二一一二三三二二: seven steps of one finger, 2 each, and 一 beside 二 twice, 5 each
// (the top hole opens or closes against the sixth): 24, twice at 120. The second register has the
// same fingers, so the nearer shift wins; as written, all are gaps.
TEST(Octave, of_fifteen_notes_of_the_ode_is_one_up) {
  const model::Score score = staff(kFifteenNotes);
  EXPECT_EQ(lying(score), (std::pair<int, std::int64_t>(1, 2 * (7 * 2 + 2 * 5))));
  const auto outcome = on_size(8, score);
  EXPECT_THAT(signs_of(outcome.value->score),
              ElementsAre("三", "三", "四", "五", "五", "四", "三", "二", "一", "一", "二", "三",
                          "三", "二", "二"));
  ASSERT_THAT(rule_names(outcome.diagnostics), ElementsAre("octave-shifted"));
  EXPECT_EQ(outcome.diagnostics[0].message,
            "one octave up to lie on the size 8 flute: no gaps; 2 octaves up: no gaps, as easy but "
            "further from the written pitch; as written: 15 gaps");
}

// The whole tune has a low G3. One up it is a gap, 150; two up it is 五, reached from 2 and left to
// 3 with a step of the breath: 10 twice and 8 once (a second to change), 28.
TEST(Octave, of_the_whole_ode_is_two_up) {
  std::vector<Word> words;
  const auto line = [&](std::vector<Word> last) {
    for (std::size_t i = 0; i < 12; ++i) words.push_back(kFifteenNotes[i]);
    words.insert(words.end(), last.begin(), last.end());
  };
  const std::vector<Word> close{{"D4", {3, 2}}, {"C4", kHalf}, {"C4", 2}};
  line({{"E4", {3, 2}}, {"D4", kHalf}, {"D4", 2}});
  line(close);
  words.insert(words.end(), {{"D4"},
                             {"D4"},
                             {"E4"},
                             {"C4"},
                             {"D4"},
                             {"E4", kHalf},
                             {"F4", kHalf},
                             {"E4"},
                             {"C4"},
                             {"D4"},
                             {"E4", kHalf},
                             {"F4", kHalf},
                             {"E4"},
                             {"D4"},
                             {"C4"},
                             {"D4"},
                             {"G3", 2}});
  line(close);
  const model::Score score = staff(words);
  EXPECT_EQ(lying(score).first, 2);
  const auto up = on_size(8, score, 2).value->effort;
  EXPECT_EQ(on_size(8, score, 1).value->effort, up - 28);
}

// "Sakura" from A4 at 60 (traditional, from memory). One up: 六六七 六六七 is 8; 六七1七六 with the
// breath between 七 and 1 is 2 + 14 + 14 + 2; 七 and the quick 六四 2 + 4 + 8; 三一三四三三一
// 2 + 7 + 7 + 2 + 2 + 0 + 14; and B4 is a gap: 88 + 150. Two up, C7 is 8: 12 for its register and 8
// for two fingers and the breath, doubled, and 8 back; 七 at the end 28 for five fingers and the
// breath, quick: 8 + 2 + 40 + 8 + 2 + 14 + 34 + 28 = 136.
TEST(Octave, of_sakura_from_a_is_two_up) {
  const model::Score score =
      staff({{"A4"}, {"A4"}, {"B4", 2}, {"A4"},        {"A4"},        {"B4", 2}, {"A4"}, {"B4"},
             {"C5"}, {"B4"}, {"A4"},    {"B4", kHalf}, {"A4", kHalf}, {"F4", 2}, {"E4"}, {"C4"},
             {"E4"}, {"F4"}, {"E4"},    {"E4", kHalf}, {"C4", kHalf}, {"B3", 2}},
            60);
  EXPECT_EQ(lying(score), (std::pair<int, std::int64_t>(2, 136)));
  EXPECT_EQ(on_size(8, score, 1).value->effort, 88);
  EXPECT_THAT(on_size(8, score).diagnostics[0].message,
              HasSubstr("2 octaves up to lie on the size 8 flute: no gaps, 1 third-register note; "
                        "one octave up: 1 gap"));
}

// G4 to D5: as written G4 and B4 are out of reach; one up 五 六 七 1 2 with the breath between 七
// and 1; two up 1 and 2 would be 8 and 2̇.
TEST(Octave, of_a_tune_from_g_to_d_is_one_up) {
  const model::Score score =
      staff({{"G4"}, {"A4"}, {"B4"}, {"C5"}, {"D5"}, {"C5"}, {"B4"}, {"G4"}});
  // 2 + 2 + 14 + 5 + 5 + 14 + 4, twice.
  EXPECT_EQ(lying(score), (std::pair<int, std::int64_t>(1, 92)));
}

// C4 to E5: one up it spans low and second register, two up it would need 8 2̇ 3̇.
TEST(Octave, of_a_tune_from_c_to_the_tenth_is_one_up) {
  const model::Score score = staff(
      {{"C4"}, {"E4"}, {"G4"}, {"C5"}, {"E5"}, {"D5"}, {"C5"}, {"G4"}, {"E4"}, {"D4"}, {"C4"}});
  EXPECT_EQ(lying(score).first, 1);
  EXPECT_THAT(signs_of(on_size(8, score).value->score),
              ElementsAre("一", "三", "五", "1", "3", "2", "1", "五", "三", "二", "一"));
}

// G3 to E5 with many high notes: one up G4 is a gap of 150; two up the seven notes from C5 on are
// third-register ones, of which each costs at least twice 12.
TEST(Octave, of_a_wide_tune_with_high_notes_is_one_up_with_its_gap) {
  const model::Score score = staff({{"G3"},
                                    {"C4"},
                                    {"E4"},
                                    {"G4"},
                                    {"C5"},
                                    {"D5"},
                                    {"E5"},
                                    {"D5"},
                                    {"C5"},
                                    {"E5"},
                                    {"D5"},
                                    {"C5"}});
  EXPECT_EQ(lying(score).first, 1);
  const auto outcome = on_size(8, score);
  EXPECT_EQ(signs_of(outcome.value->score).front(), "?G4");
  EXPECT_THAT(rule_names(outcome.diagnostics), ElementsAre("octave-shifted", "out-of-reach 1"));
}

// C5 to C6 and F5 to F6 lie well on 8 and stay: higher they would be as easy or loud.
TEST(Octave, of_what_lies_well_as_written_stays) {
  for (const auto& notes : {std::vector<Word>{{"C5"}, {"D5"}, {"E5"}, {"G5"}, {"A5"}, {"C6"}},
                            std::vector<Word>{{"G6"}, {"E6"}, {"D6"}, {"C6"}, {"D6"}, {"E6"}},
                            std::vector<Word>{{"F5"}, {"A5"}, {"C6"}, {"D6"}, {"F6"}, {"C6"}}}) {
    EXPECT_EQ(lying(staff(notes)).first, 0);
    EXPECT_THAT(on_size(8, staff(notes)).diagnostics, testing::IsEmpty());
  }
}

// 1 六 1 六 1 五 七 in quick notes asks more of the fingers than 8 6 8 6 8 5 7, but nobody writes
// the loud one.
TEST(Octave, is_not_the_loud_one_to_spare_a_few_fingers) {
  std::vector<Word> words;
  for (const std::string_view note : {"C6", "A5", "C6", "A5", "C6", "G5", "B5", "C6"}) {
    words.push_back({note, kHalf});
  }
  const model::Score score = staff(words);
  EXPECT_LT(on_size(8, score, 1).value->effort, on_size(8, score, 0).value->effort);
  EXPECT_EQ(lying(score).first, 0);
}

// A twentieth is not felt.
TEST(Octave, is_the_nearest_of_those_that_weigh_alike) {
  EXPECT_TRUE(weigh_alike(105, 100));
  EXPECT_FALSE(weigh_alike(106, 100));
  EXPECT_TRUE(weigh_alike(0, 0));
  EXPECT_FALSE(weigh_alike(1, 0));
}

// What carries a flute or a fingering of ours sounds where it says, and so do fingers.
TEST(Octave, stays_where_the_file_is_ours) {
  model::Score score = staff(kFifteenNotes);
  const auto shift = [&](Origin origin, OctaveChoice octave) {
    ResolveOptions options;
    options.origin = origin;
    options.octave = octave;
    options.flute = model::FluteSize{8, 0};
    options.refinger = Refinger::all;
    return resolve(score, options).value->octave_shift;
  };
  EXPECT_EQ(shift(Origin::staff, UsualOctave{}), 1);
  EXPECT_EQ(shift(Origin::sound, UsualOctave{}), 1);
  EXPECT_EQ(shift(Origin::fingers, UsualOctave{}), 0);
  EXPECT_EQ(shift(Origin::fingers, AutoOctave{}), 1);
  EXPECT_EQ(shift(Origin::staff, 0), 0);
  score.header.flute = model::FluteSize{3, 0};
  EXPECT_EQ(shift(Origin::staff, UsualOctave{}), 0);
  EXPECT_EQ(shift(Origin::staff, AutoOctave{}), 1);
  score.header.flute.reset();
  score.notes[0].tone.fingering = model::parse_printed("三");
  EXPECT_EQ(shift(Origin::staff, UsualOctave{}), 0);
}

// Loud notes that are to be avoided are still better than a note left out.
TEST(Octave, with_avoided_notes_leaves_none_out_for_them) {
  ResolveOptions options;
  options.origin = Origin::staff;
  options.flute = model::FluteSize{8, 0};
  options.octave = AutoOctave{};
  options.effort.avoid_third_register = true;
  // Nowhere else do A4 and C7 lie together.
  const auto outcome = resolve(staff({{"A4"}, {"C5"}, {"E5"}, {"C7"}}), options);
  EXPECT_THAT(signs_of(outcome.value->score), ElementsAre("筒", "一", "三", "8"));
}

}  // namespace
}  // namespace yubifu::fingering
