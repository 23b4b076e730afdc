// Which tone is which sign. The flutes are built-in ones, so that what is expected can be seen.
#include "hearing/signs.h"

#include <cmath>

#include <gmock/gmock.h>

#include "support/text.h"

namespace yubifu::hearing {
namespace {

using support::rule_names;
using testing::ElementsAre;
using testing::IsEmpty;

// One tone a second.
std::vector<Tone> tones_of(const std::vector<double>& hz) {
  std::vector<Tone> tones;
  for (const double one : hz) {
    Tone tone;
    tone.begin = static_cast<double>(tones.size());
    tone.end = tone.begin + 0.8;
    tone.pitch.hz = one;
    tones.push_back(tone);
  }
  return tones;
}

class SignsOfTones : public testing::Test {
 protected:
  // The entries of size 8, whose 一 is C5.
  std::vector<std::size_t> entries(const std::vector<std::string>& names) const {
    std::vector<std::size_t> found;
    for (const std::string& name : names) found.push_back(entry_named(like, name).value());
    return found;
  }

  // "一 523": what was taken for each sign, in whole Hz.
  std::vector<std::string> taken(const std::vector<Tone>& tones,
                                 const std::vector<std::string>& names) {
    const auto outcome = signs_of(tones, entries(names), like);
    rules = rule_names(outcome.diagnostics);
    std::vector<std::string> texts;
    for (const HeardSign& sign : *outcome.value) {
      texts.push_back(printed(like.entries()[sign.entry]) + " " +
                      std::to_string(std::lround(sign.tone.pitch.hz)));
    }
    return texts;
  }

  const flute::Flute like = flute::built_in_flute({8, 0}, 440);
  std::vector<std::string> rules;
};

const std::vector<std::string> kFour{"一", "二", "三", "四"};

TEST_F(SignsOfTones, AreTakenOneForOneWhereTheCountsAgree) {
  // Nothing like C5 D5 E5 F5: a festival flute in a key and with steps of its own.
  EXPECT_THAT(taken(tones_of({480, 520, 590, 640}), kFour),
              ElementsAre("一 480", "二 520", "三 590", "四 640"));
  EXPECT_THAT(rules, IsEmpty());
}

TEST_F(SignsOfTones, TakeTheSteadierOfTwoTakes) {
  std::vector<Tone> tones = tones_of({523, 587, 588, 659, 698});
  tones[1].pitch.spread_cents = 12;
  EXPECT_THAT(taken(tones, kFour), ElementsAre("一 523", "二 588", "三 659", "四 698"));
  EXPECT_THAT(rules, ElementsAre("sign-repeated"));
}

TEST_F(SignsOfTones, LeaveOutASignThatWasNotPlayed) {
  EXPECT_THAT(taken(tones_of({523, 659, 698, 784}), {"一", "二", "三", "四", "五"}),
              ElementsAre("一 523", "三 659", "四 698", "五 784"));
  EXPECT_THAT(rules, ElementsAre("sign-unheard"));
}

TEST_F(SignsOfTones, LeaveOutAToneThatIsNoSign) {
  EXPECT_THAT(taken(tones_of({523, 587, 2000, 659, 698}), kFour),
              ElementsAre("一 523", "二 587", "三 659", "四 698"));
  EXPECT_THAT(rules, ElementsAre("tone-extra"));
}

// Three equal steps of a flute in another key: the missing one may be the first or the last.
TEST_F(SignsOfTones, GuessNothing) {
  const auto some = taken(tones_of({555, 623}), {"一", "二", "三"});
  EXPECT_THAT(some, IsEmpty());
  EXPECT_THAT(rules, ElementsAre("sign-unheard", "tone-extra"));
}

// 筒 and 一 of a flute a minor third over the one that it is like, and a slip of an octave instead
// of 二. The two are as high as 一 and 二 of that other flute, which proves nothing.
TEST_F(SignsOfTones, AreNotKnownByTheirKeyAlone) {
  EXPECT_THAT(taken(tones_of({521, 605, 1210}), {"筒", "一", "二"}), IsEmpty());
  EXPECT_THAT(rules, ElementsAre("sign-unheard", "tone-extra"));
}

TEST_F(SignsOfTones, SettleADoubtfulOctaveByTheirOrder) {
  std::vector<Tone> tones = tones_of({523, 587, 1319, 698});
  tones[2].pitch.octave = OctaveDoubt::maybe_lower;
  EXPECT_THAT(taken(tones, kFour), ElementsAre("一 523", "二 587", "三 660", "四 698"));
  EXPECT_THAT(rules, ElementsAre("octave-doubt"));
}

TEST_F(SignsOfTones, KeepADoubtfulOctaveThatSuits) {
  std::vector<Tone> tones = tones_of({523, 587, 659, 698});
  tones[2].pitch.octave = OctaveDoubt::maybe_higher;
  EXPECT_THAT(taken(tones, kFour), ElementsAre("一 523", "二 587", "三 659", "四 698"));
  EXPECT_THAT(rules, ElementsAre("octave-doubt"));
}

TEST_F(SignsOfTones, DoNotMoveAnOctaveThatIsSure) {
  EXPECT_THAT(taken(tones_of({523, 587, 1319, 784}), {"一", "二", "三", "五"}),
              ElementsAre("一 523", "二 587", "五 784"));
  EXPECT_THAT(rules, ElementsAre("sign-unheard", "tone-extra"));
}

TEST_F(SignsOfTones, MayBePlayedInAnyOrder) {
  EXPECT_THAT(taken(tones_of({1047, 523, 932, 440}), {"1", "一", "0", "筒"}),
              ElementsAre("1 1047", "一 523", "0 932", "筒 440"));
}

TEST(SignsByName, AreFoundAsPrintedAndInAscii) {
  const flute::Flute flute = flute::built_in_flute({6, 0}, 440);
  EXPECT_EQ(entry_named(flute, "三メ"), entry_named(flute, "r3m"));
  EXPECT_TRUE(entry_named(flute, "2̇"));
  EXPECT_FALSE(entry_named(flute, "三↓20"));
  EXPECT_FALSE(entry_named(flute, "四メ"));
}

TEST(SignsUpward, AreThePlainOnesFromTheTubeToTheThirdRegister) {
  const flute::Flute flute = flute::built_in_flute({6, 0}, 440);
  std::string names;
  for (const std::size_t sign : upward_signs(flute)) names += printed(flute.entries()[sign]) + " ";
  EXPECT_EQ(names, "筒 一 二 三 四 五 六 七 1 2 3 4 5 6 7 8 2̇ 3̇ 4̇ 5̇ ");
}

}  // namespace
}  // namespace yubifu::hearing
