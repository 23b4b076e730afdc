// Which flutes a melody lies on; keys and notes typed by name.
#include "fingering/rank.h"

#include <gmock/gmock.h>

#include "flute/flute.h"
#include "tune.h"

namespace yubifu::fingering {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

std::vector<Fit> fits_of(const std::vector<std::string_view>& notes, RankOptions options = {}) {
  std::vector<Word> words;
  for (const std::string_view note : notes) words.push_back({note, 1});
  ResolveOptions resolve_options;
  resolve_options.origin = Origin::staff;
  return rank_flutes(*resolve(tune_of_notes(words), resolve_options).value, options);
}

std::vector<std::string> titles(const std::vector<Fit>& fits) {
  std::vector<std::string> list;
  for (const Fit& fit : fits) list.push_back(fit.title);
  return list;
}

// The sizes on which everything is plain, in order of size.
std::vector<int> plain_sizes(const std::vector<std::string_view>& notes) {
  std::vector<int> sizes;
  for (const Fit& fit : fits_of(notes)) {
    if (fit.plain == fit.notes) sizes.push_back(std::stoi(fit.title));
  }
  std::sort(sizes.begin(), sizes.end());
  return sizes;
}

const Fit& fit_of(const std::vector<Fit>& fits, std::string_view title) {
  return *std::find_if(fits.begin(), fits.end(), [&](const Fit& f) { return f.title == title; });
}

// Two octaves of a major scale lie plain where 一 is its do: the notes of 一 as in the table of
// sizes (Japanese Wikipedia, 篠笛: 1 in F, 3 in G, 6 in B♭, 8 in C).
TEST(RankFlutes, two_octaves_of_a_scale_lie_plain_only_where_ichi_is_its_do) {
  EXPECT_THAT(plain_sizes({"F4", "G4", "A4", "Bb4", "C5", "D5", "E5", "F5", "G5", "A5", "Bb5", "C6",
                           "D6", "E6", "F6"}),
              ElementsAre(1, 13));
  EXPECT_THAT(plain_sizes({"Bb4", "C5", "D5", "Eb5", "F5", "G5", "A5", "Bb5", "C6", "D6", "Eb6",
                           "F6", "G6", "A6", "Bb6"}),
              ElementsAre(6));
  EXPECT_THAT(plain_sizes({"C5", "D5", "E5", "F5", "G5", "A5", "B5", "C6", "D6", "E6", "F6", "G6",
                           "A6", "B6", "C7"}),
              ElementsAre(8));
  EXPECT_THAT(plain_sizes({"G4", "A4", "B4", "C5", "D5", "E5", "F#5", "G5", "A5", "B5", "C6", "D6",
                           "E6", "F#6", "G6"}),
              ElementsAre(3));
}

TEST(RankFlutes, the_plain_flute_comes_first) {
  const auto fits = fits_of({"Bb4", "C5", "D5", "Eb5", "F5", "G5", "A5", "Bb5", "C6", "D6"});
  EXPECT_EQ(fits.front().title, "6");
  EXPECT_EQ(fits.front().ichi, (model::Spelling{model::Step::b, -1, 4}));
  EXPECT_EQ(fits.front().octave, 0);
  EXPECT_EQ(fits.size(), 13u);
}

// 三 四 六 七 1 on size 7: D♯ E G♯ A♯ B.
TEST(RankFlutes, the_pentatonic_of_plain_numbers_needs_no_half_hole) {
  const auto fits = fits_of({"D#5", "E5", "G#5", "A#5", "B5", "A#5", "G#5", "E5", "D#5"});
  const Fit& seven = fit_of(fits, "7");
  EXPECT_EQ(seven.half_usual + seven.half_hard + seven.bent + seven.out_of_reach, 0u);
  EXPECT_EQ(seven.plain, 9u);
}

TEST(RankFlutes, re_mi_flat_so_la_si_flat_needs_only_the_usual_half_holes) {
  const std::vector<std::string_view> notes{"D5", "Eb5", "G5", "A5", "Bb5", "A5", "G5", "D5"};
  const auto fits = fits_of(notes);
  const Fit& eight = fit_of(fits, "8");
  EXPECT_EQ(eight.half_hard + eight.bent + eight.loud + eight.out_of_reach, 0u);
  EXPECT_GE(eight.half_usual, 1u);
  EXPECT_LE(eight.half_usual, 2u);
  // The signs themselves: 三メ for E♭, and for B♭ either 七メ or 0; in the octave above 3メ and
  // 7メ.
  const auto signs_at = [&](int octave) {
    std::vector<Word> words;
    for (const std::string_view note : notes) words.push_back({note, 1});
    ResolveOptions options;
    options.origin = Origin::staff;
    options.octave = octave;
    return signs_of(resolve(tune_of_notes(words), options).value->score);
  };
  EXPECT_THAT(signs_at(0),
              ElementsAre("二", "三メ", "五", "六", testing::AnyOf("七メ", "0"), "六", "五", "二"));
  EXPECT_THAT(signs_at(1), ElementsAre("2", "3メ", "5", "6", "7メ", "6", "5", "2"));
}

TEST(RankFlutes, counts_columns_and_finds_the_hardest_bar) {
  const auto fits =
      fits_of({"C5", "D5", "E5", "F5", "Db5", "E5", "Db5", "Eb5", "C7", "A4", "A4", "A4"});
  const Fit& eight = fit_of(fits, "8");
  EXPECT_EQ(eight.notes, 12u);
  EXPECT_EQ(eight.half_hard, 2u);   // 二メ twice
  EXPECT_EQ(eight.half_usual, 1u);  // 三メ
  EXPECT_EQ(eight.loud, 1u);        // 8
  EXPECT_EQ(eight.plain, 9u);
  EXPECT_EQ(eight.octave, 0);
  ASSERT_TRUE(eight.hardest);
  EXPECT_EQ(eight.hardest->number, "2");
  EXPECT_EQ(eight.pitch_number, 8);
}

TEST(RankFlutes, equals_come_in_the_order_in_which_players_own_them) {
  // One note without any change costs nothing on every flute that has it plain.
  const auto fits = fits_of({"A5"});
  std::vector<std::string> free;
  for (const Fit& fit : fits) {
    if (fit.effort == 0) free.push_back(fit.title);
  }
  // A is 七 on 6, 六 on 8, 五 on 10, 二 on 3, 一 on 5; on 12, 13 and 1, where it is 四 and 三, the
  // hand pays.
  EXPECT_THAT(free, ElementsAre("6", "8", "5", "3", "10"));
  EXPECT_EQ(titles(fits_of({})), (std::vector<std::string>{"7", "6", "8", "5", "4", "9", "3", "10",
                                                           "2", "11", "1", "12", "13"}));
}

// Nobody is sent to a flute that few own to be spared a half hole or two.
TEST(RankFlutes, keeps_to_common_flutes_unless_the_tune_needs_another) {
  // A lullaby in the scale la ti-flat re mi fa (traditional manner, invented): all plain on 1 and
  // 13 too, and one 0 on 8.
  const auto lullaby = fits_of({"A5", "A5", "Bb5", "A5", "F5", "A5", "E5", "F5", "A5", "Bb5", "A5",
                                "A5", "Bb5", "D6", "Bb5", "A5", "F5", "E5"});
  EXPECT_EQ(fit_of(lullaby, "1").plain, 18u);
  EXPECT_EQ(fit_of(lullaby, "13").plain, 18u);
  EXPECT_EQ(lullaby.front().title, "8");
  // A chromatic scale is as hard on each; what few own comes last.
  const auto chromatic =
      fits_of({"C5", "C#5", "D5", "D#5", "E5", "F5", "F#5", "G5", "G#5", "A5", "A#5", "B5", "C6"});
  EXPECT_THAT(chromatic.front().title, testing::AnyOf("6", "7", "8"));
  // A reel in D over two octaves (invented) wants 10, for all its loud notes.
  const auto reel =
      fits_of({"D5", "F#5", "A5",  "D6", "F#6", "D6",  "A5", "F#5", "D5", "E5",  "F#5", "A5",
               "B5", "A5",  "F#5", "E5", "D5",  "F#5", "A5", "D6",  "E6", "F#6", "G6",  "A6",
               "B6", "C#7", "D7",  "A6", "F#6", "D6",  "A5", "F#5", "E5", "D5"});
  EXPECT_EQ(reel.front().title, "10");
  EXPECT_EQ(reel.front().octave, 0);
}

TEST(RankFlutes, puts_the_flutes_that_a_player_owns_first) {
  RankOptions options;
  options.preferred = {model::FluteSize{9, 0}, model::FluteSize{4, 0}};
  const auto fits = fits_of({"A5", "B5", "A5"}, options);
  EXPECT_THAT(std::vector<std::string>({fits[0].title, fits[1].title}),
              testing::UnorderedElementsAre("9", "4"));
  EXPECT_LE(fits[0].effort, fits[1].effort);
  // The others as ever.
  const auto all = titles(fits_of({"A5", "B5", "A5"}));
  std::vector<std::string> rest = titles(fits);
  rest.erase(rest.begin(), rest.begin() + 2);
  std::vector<std::string> others;
  for (const std::string& title : all) {
    if (title != "9" && title != "4") others.push_back(title);
  }
  EXPECT_EQ(rest, others);
}

TEST(RankFlutes, remarks_on_very_long_and_very_short_flutes) {
  for (const Fit& fit : fits_of({"A5"})) {
    const int size = std::stoi(fit.title);
    EXPECT_EQ(fit.remark.empty(), size >= 3 && size <= 10) << size;
  }
}

TEST(RankFlutes, moves_the_melody_to_a_singers_pitch) {
  // Fingered for size 6, where 三 is the pitch number 6; the singer wants 4: size 4 has the same
  // fingers.
  model::Score score =
      tune_of_signs({{"一"}, {"二"}, {"三"}, {"四"}, {"五"}, {"六"}, {"七"}, {"1"}});
  score.header.flute = model::FluteSize{6, 0};
  const Resolved six = *resolve(score, {}).value;
  EXPECT_EQ(rank_flutes(six, {}).front().title, "6");
  RankOptions options;
  options.pitch_number = 4;
  EXPECT_EQ(rank_flutes(six, options).front().title, "4");
  EXPECT_EQ(rank_flutes(six, options).front().plain, 8u);
  options.pitch_number.reset();
  options.move_semitones = 1;
  EXPECT_EQ(rank_flutes(six, options).front().title, "7");
}

// The scale of D lies plain where 一 is D (size 10) and, a whole tone lower, where it is C (8).
TEST(RankFlutes, finds_the_key_in_which_each_flute_plays_it_plain) {
  const std::vector<std::string_view> notes{"D5", "E5", "F#5", "G5", "A5", "B5", "C#6", "D6"};
  EXPECT_EQ(fits_of(notes).front().title, "10");
  RankOptions options;
  options.keys = Keys::any;
  const auto fits = fits_of(notes, options);
  for (const Fit& fit : fits) EXPECT_EQ(fit.plain, fit.notes) << fit.title;
  // Equal everywhere, so the usual flutes come first.
  EXPECT_EQ(titles(fits), (std::vector<std::string>{"7", "6", "8", "5", "4", "9", "3", "10", "2",
                                                    "11", "1", "12", "13"}));
  const auto moved = [&](std::string_view title) {
    const Fit& fit = fit_of(fits, title);
    return 12 * fit.octave + fit.semitones;
  };
  EXPECT_EQ(moved("10"), 0);
  EXPECT_EQ(moved("8"), -2);
  EXPECT_EQ(moved("11"), 1);
  EXPECT_EQ(moved("1"), -9);
  EXPECT_EQ(fit_of(fits, "1").semitones, 3);
  EXPECT_EQ(fit_of(fits, "1").octave, -1);
}

TEST(RankFlutes, puts_flutes_of_files_after_equal_sizes) {
  flute::FluteTable table;
  table.title = "Own";
  table.name = model::FlutePath{"own.json"};
  table.ichi = {71, 0};
  table.hole_count = 7;
  table.entries = flute::built_in_flute({7, 0}, 440).entries();
  RankOptions options;
  options.flutes = whole_sizes(440);
  options.flutes.push_back(flute::Flute(std::move(table)));
  // B major lies under the same fingers on 7 and on the flute like it.
  const auto fits = fits_of({"B4", "C#5", "D#5", "E5", "F#5", "G#5", "A#5"}, options);
  ASSERT_EQ(fits.size(), 14u);
  EXPECT_EQ(fits[0].title, "7");
  EXPECT_EQ(fits[1].title, "Own");
  EXPECT_EQ(fits[0].effort, fits[1].effort);
  EXPECT_EQ(fits[1].flute, model::FluteName(model::FlutePath{"own.json"}));
}

// Shamisen pitch numbers (syamisen.ne.jp): 1 = A, 4 = C, 6 = D, 8 = E.
TEST(PitchNumber, counts_semitones_from_a) {
  EXPECT_EQ(pitch_number(69), 1);
  EXPECT_EQ(pitch_number(60), 4);
  EXPECT_EQ(pitch_number(62), 6);
  EXPECT_EQ(pitch_number(76), 8);
  EXPECT_EQ(pitch_number(56), 12);
}

TEST(RankFlutes, can_choose_among_given_flutes_and_effort) {
  RankOptions options;
  options.allowed = Allowed::plain;
  const auto fits = fits_of({"Eb5"}, options);
  EXPECT_EQ(fit_of(fits, "8").out_of_reach, 1u);
  EXPECT_EQ(fit_of(fits, "6").out_of_reach, 0u);
}

}  // namespace
}  // namespace yubifu::fingering
