// Every sign of every built-in flute, as a player of MIDI hears it: key and pitch bend together.
// The pitches are typed from the published tables: 一 is F4, key 65, on the flute of size 1, and a
// semitone higher on each next size (Japanese Wikipedia, 篠笛; a maker's page on 篠笛).
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "midi/midi_bytes.h"
#include "midi/read/reader.h"
#include "midi/written_midi.h"

namespace yubifu::midi {
namespace {

struct SignAndCents {
  std::string sign;
  int cents;  ///< from 一
};

const std::vector<SignAndCents> kSigns{
    {"筒", -300},  {"一", 0},      {"二メ", 100},  {"二", 200},     {"三メ", 300}, {"三", 400},
    {"四", 500},   {"五メ", 600},  {"五", 700},    {"六メ", 800},   {"六", 900},   {"七メ", 1000},
    {"七", 1100},  {"0", 1000},    {"1", 1200},    {"2メ", 1300},   {"2", 1400},   {"3メ", 1500},
    {"3", 1600},   {"4", 1700},    {"5メ", 1800},  {"5", 1900},     {"6メ", 2000}, {"6", 2100},
    {"7メ", 2200}, {"7", 2300},    {"8", 2400},    {"2̇", 2600},     {"3̇", 2800},   {"4̇", 2900},
    {"5̇", 3100},   {"三↓17", 383}, {"四↑30", 530}, {"三メ↓50", 250}};

std::string tune_for(const std::string& flute) {
  std::string text = fmt::format("flute: {}\nmeter: {}/4\n\n", flute, kSigns.size());
  for (const SignAndCents& entry : kSigns) text += entry.sign + " ";
  return text + "|=\n";
}

// From MIDI key 0, of each note: the bend range is two semitones, the wheel's centre 8192.
std::vector<double> heard_cents(const WrittenMidi& file) {
  std::vector<double> heard;
  double wheel = 8192;
  for (const std::string& event : file.events(1, {"on", "bend"})) {
    std::istringstream words(event);
    std::string kind;
    int tick = 0;
    int channel = 0;
    int value = 0;
    words >> tick >> kind >> channel >> value;
    if (kind == "bend") {
      wheel = value;
    } else {
      heard.push_back(100 * value + 200 * (wheel - 8192) / 8192);
    }
  }
  return heard;
}

// Half a step of the wheel is an eightieth of a cent.
constexpr double kHalfStep = 0.0125;

void expect_true_pitch(const std::string& flute, double ichi_cents, double tuning_cents = 0) {
  const std::vector<double> heard = heard_cents(written(tune_for(flute)));
  ASSERT_EQ(heard.size(), kSigns.size()) << flute;
  for (std::size_t i = 0; i < heard.size(); ++i) {
    EXPECT_NEAR(heard[i], ichi_cents + kSigns[i].cents + tuning_cents, kHalfStep)
        << "flute " << flute << ", " << kSigns[i].sign;
  }
}

TEST(TruePitch, IsHeardOnEveryBuiltInFlute) {
  for (int size = 1; size <= 13; ++size) {
    const double ichi = 100 * (64 + size);
    expect_true_pitch(fmt::format("{}", size), ichi);
    expect_true_pitch(fmt::format("{}+15c", size), ichi + 15);
    expect_true_pitch(fmt::format("{}-38c", size), ichi - 38);
    if (size < 13) expect_true_pitch(fmt::format("{}.5", size), ichi + 50);
  }
}

// An A4 of 442 Hz is 1200 log2(442/440) = 7.851 cents higher, one of 438 is 7.887 cents lower.
TEST(TruePitch, FollowsTheTuning) {
  expect_true_pitch("6\ntuning: 442", 7000, 7.851);
  expect_true_pitch("6\ntuning: 438", 7000, -7.887);
}

TEST(TruePitch, IsReadBackFromEveryFlute) {
  for (const std::string flute : {"1", "2.5", "3-38c", "6", "6\ntuning: 442", "8+15c", "13"}) {
    const model::Score score = score_of(tune_for(flute));
    const model::Score read = read_sound(write_midi(score, {}).value.value());
    ASSERT_EQ(read.notes.size(), score.notes.size()) << flute;
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      EXPECT_NEAR(read.notes[i].tone.pitch->total_cents(), score.notes[i].tone.pitch->total_cents(),
                  1)
          << "flute " << flute << ", " << kSigns[i].sign;
      EXPECT_EQ(read.notes[i].tone.fingering, score.notes[i].tone.fingering);
    }
  }
}

}  // namespace
}  // namespace yubifu::midi
