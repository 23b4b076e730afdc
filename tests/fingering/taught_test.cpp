// Melodies in the public domain, typed from memory (versions differ), with the fingers in which
// they are commonly taught: in a key where the tune lies on plain numbers, half holes where the
// tune itself has a raised or lowered tone.
#include <string>

#include <gmock/gmock.h>

#include "tune.h"

namespace yubifu::fingering {
namespace {

using testing::ElementsAre;

const model::Rational kEighth(1, 2);
const model::Rational kLong(3, 2);

// As somebody gets it who drops a printed staff on the program and names a flute.
std::vector<std::string> taught(const std::vector<Word>& words, int tempo) {
  model::Score score = tune_of_notes(words);
  score.header.tempo = model::Tempo{tempo, 1};
  ResolveOptions options;
  options.origin = Origin::staff;
  options.flute = model::FluteSize{8, 0};
  options.octave = UsualOctave{};
  return signs_of(resolve(std::move(score), options).value->score);
}

// "Kirakira boshi" (the French air of the 18th century): do is 一, the first tune of many lessons.
TEST(Taught, twinkle_counts_from_ichi) {
  EXPECT_THAT(taught({{"C4"},
                      {"C4"},
                      {"G4"},
                      {"G4"},
                      {"A4"},
                      {"A4"},
                      {"G4", 2},
                      {"F4"},
                      {"F4"},
                      {"E4"},
                      {"E4"},
                      {"D4"},
                      {"D4"},
                      {"C4", 2}},
                     100),
              ElementsAre("一", "一", "五", "五", "六", "六", "五", "四", "四", "三", "三", "二",
                          "二", "一"));
}

// "Hotaru no hikari" (the Scottish air) in F: five tones, plain, up into the second register and
// back; the phrase over 六 1 2 is why it is taught.
TEST(Taught, hotaru_no_hikari_goes_on_into_the_second_register) {
  EXPECT_THAT(
      taught({{"C4"},          {"F4", kLong},   {"F4", kEighth}, {"F4"},        {"A4"},
              {"G4", kLong},   {"F4", kEighth}, {"G4"},          {"A4"},        {"F4", kLong},
              {"F4", kEighth}, {"A4"},          {"C5"},          {"D5", 3},     {"D5"},
              {"C5", kLong},   {"A4", kEighth}, {"A4"},          {"F4"},        {"G4", kLong},
              {"F4", kEighth}, {"G4"},          {"A4"},          {"F4", kLong}, {"D4", kEighth},
              {"D4"},          {"C4"},          {"F4", 3}},
             88),
      ElementsAre("一", "四", "四", "四", "六", "五", "四", "五", "六", "四", "四", "六", "1", "2",
                  "2", "1", "六", "六", "四", "五", "四", "五", "六", "四", "二", "二", "一",
                  "四"));
}

// "Kojo no tsuki" (1901) in A minor, with the raised tone of its first edition: 三メ, the half hole
// that every player learns first.
TEST(Taught, kojo_no_tsuki_has_one_half_hole) {
  EXPECT_THAT(taught({{"E4"},
                      {"E4"},
                      {"A4"},
                      {"B4"},
                      {"C5"},
                      {"B4"},
                      {"A4", 2},
                      {"F4"},
                      {"F4"},
                      {"E4"},
                      {"D#4"},
                      {"E4", 3}},
                     66),
              ElementsAre("三", "三", "六", "七", "1", "七", "六", "四", "四", "三", "三メ", "三"));
}

// "Kagome kagome" (children's song), the opening: la ti so mi of C are plain.
TEST(Taught, kagome_is_plain) {
  EXPECT_THAT(
      taught({{"A4"},
              {"A4", kEighth},
              {"B4", kEighth},
              {"A4"},
              {"A4"},
              {"A4", 2},
              {"A4"},
              {"A4", kEighth},
              {"G4", kEighth},
              {"A4"},
              {"G4"},
              {"G4"},
              {"E4"}},
             96),
      ElementsAre("六", "六", "七", "六", "六", "六", "六", "六", "五", "六", "五", "五", "三"));
}

// "Toryanse" (children's song), the opening, with the lowered tone between 六 and 六: sung slowly
// it is 0, which speaks clearly, as in "Sakura"; at the speed of the game it is 七メ, which takes
// one finger.
TEST(Taught, toryanse_takes_zero_slowly_and_the_half_hole_in_play) {
  const std::vector<Word> opening{{"A4"}, {"A4"}, {"Bb4"}, {"A4"}, {"F4"}, {"E4"}};
  EXPECT_THAT(taught(opening, 60), ElementsAre("六", "六", "0", "六", "四", "三"));
  EXPECT_THAT(taught(opening, 100), ElementsAre("六", "六", "七メ", "六", "四", "三"));
}

}  // namespace
}  // namespace yubifu::fingering
