// The tones of recordings: found, measured, passed over. Frequencies are those that the recordings
// were made from; a pitch may be off by 1 cent where there is little noise, by 4 at most (what a
// good tuner shows).
#include "hearing/tones.h"

#include <cmath>
#include <random>

#include <gmock/gmock.h>

#include "support/played.h"
#include "support/rounds.h"
#include "support/text.h"

namespace yubifu::hearing {
namespace {

using support::cents_between;
using support::played;
using support::PlayedTone;
using support::Room;
using support::rule_names;
using support::wav_of;
using support::wav_of_channels;
using support::weak_fundamental;
using testing::ElementsAre;
using testing::IsEmpty;

std::optional<Recording> recording_of(const std::string& bytes) {
  return Recording::open(base::bytes_of(bytes)).value;
}

base::Outcome<std::vector<Tone>> heard(const std::string& wav) {
  auto recording = recording_of(wav);
  EXPECT_TRUE(recording.has_value());
  return hear(*recording);
}

base::Outcome<std::vector<Tone>> heard(const std::vector<PlayedTone>& tones,
                                       const Room& room = {}) {
  return heard(wav_of(played(tones, room), room.rate));
}

// Every tone of a recording and no other, to so many cents.
void expect_exactly(const std::vector<PlayedTone>& tones, const Room& room, double cents) {
  const auto found = heard(tones, room);
  ASSERT_TRUE(found.value);
  ASSERT_EQ(found.value->size(), tones.size());
  double at = 0.3;
  for (std::size_t i = 0; i < tones.size(); ++i) {
    const Tone& tone = (*found.value)[i];
    EXPECT_NEAR(cents_between(tones[i].hz, tone.pitch.hz), 0, cents) << tones[i].hz << " Hz";
    EXPECT_NEAR(tone.begin, at, 0.06);
    EXPECT_NEAR(tone.end, at + tones[i].seconds, 0.06);
    at += tones[i].seconds + tones[i].silence;
  }
}

// From under the deepest flute to the third register, every second one with a weak fundamental.
std::vector<PlayedTone> wide_scale() {
  std::vector<PlayedTone> tones;
  for (double hz = 290; hz < 3250; hz *= std::exp2(5.3 / 12)) {
    tones.push_back({hz, 0.6, 0.25});
    if (tones.size() % 2 == 0) tones.back().partials = weak_fundamental();
  }
  return tones;
}

TEST(Hear, FindsEachToneAtAnyRate) {
  for (const int rate : {8'000, 22'050, 44'100, 48'000, 192'000}) {
    SCOPED_TRACE(rate);
    expect_exactly(wide_scale(), {rate, 0.002}, 0.2);
  }
}

TEST(Hear, FindsTonesInNoise) {
  // The tones have 0.17 (root mean square); that is 20 dB, and 10 dB.
  expect_exactly(wide_scale(), {44'100, 0.017}, 1);
  expect_exactly(wide_scale(), {44'100, 0.054}, 4);
}

TEST(Hear, TakesTheMiddleOfAVibrato) {
  std::vector<PlayedTone> tones = wide_scale();
  for (PlayedTone& tone : tones) tone.vibrato_cents = 30;
  expect_exactly(tones, {44'100, 0.017}, 1);
}

TEST(Hear, TakesTheMiddleOfADriftAndSaysSo) {
  PlayedTone tone{600, 1.2};
  tone.drift_cents = -24;
  const auto found = heard({tone});
  ASSERT_TRUE(found.value);
  ASSERT_EQ(found.value->size(), 1u);
  EXPECT_NEAR(cents_between(600, found.value->front().pitch.hz), 0, 1);
  EXPECT_THAT(rule_names(found.diagnostics), ElementsAre("tone-drifts"));
}

TEST(Hear, IsNotDisturbedByHumAndClicks) {
  Room room;
  room.noise = 0.005;
  room.hum = 0.1;
  room.clicks = 40;
  expect_exactly(wide_scale(), room, 1);
}

TEST(Hear, HearsNoToneInHumAlone) {
  Room room;
  room.hum = 0.1;
  room.noise = 0.001;
  const auto found = heard({{600, 0.0, 3}}, room);
  EXPECT_FALSE(found.value);
  EXPECT_THAT(rule_names(found.diagnostics), ElementsAre("tone-hum", "recording-silent"));
}

TEST(Hear, PassesOverWhatIsTooShort) {
  const auto found = heard({{500, 0.25}, {600, 0.42}, {700, 0.8}});
  ASSERT_TRUE(found.value);
  EXPECT_EQ(found.value->size(), 2u);
  EXPECT_THAT(rule_names(found.diagnostics), ElementsAre("tone-short"));
}

TEST(Hear, LeavesOutWhatSlides) {
  PlayedTone slide{600, 1};
  slide.drift_cents = 150;
  const auto found = heard({{500, 0.8}, slide});
  ASSERT_TRUE(found.value);
  EXPECT_EQ(found.value->size(), 1u);
  EXPECT_THAT(rule_names(found.diagnostics), ElementsAre("tone-wavers"));
}

TEST(Hear, TakesAnOverblownToneFromWhereItHasSettled) {
  const auto found = heard({{1200, 0.5, 0}, {600, 1}});
  ASSERT_TRUE(found.value);
  ASSERT_EQ(found.value->size(), 1u);
  EXPECT_NEAR(found.value->front().pitch.hz, 600, 0.1);
  EXPECT_THAT(rule_names(found.diagnostics), ElementsAre("tone-overblown"));
}

TEST(Hear, PartsTonesWithoutABreathByTheirPitch) {
  expect_exactly({{500, 0.8, 0}, {560, 0.8, 0}, {1120, 0.8}}, {}, 0.5);
}

TEST(Hear, TellsWhatIsClipped) {
  PlayedTone loud{700, 1};
  loud.level = 1.6;
  const auto found = heard({{600, 1}, loud});
  ASSERT_TRUE(found.value);
  ASSERT_EQ(found.value->size(), 2u);
  EXPECT_NEAR(cents_between(700, (*found.value)[1].pitch.hz), 0, 1);
  EXPECT_THAT(rule_names(found.diagnostics), ElementsAre("tone-clipped"));
}

TEST(Hear, TakesTheClearerOfTwoChannels) {
  const std::vector<float> flute = played({{600, 1}, {700, 1}}, {44'100, 0.001});
  const std::vector<float> street = played({{300, 0.0, 2.9}}, {44'100, 0.1, 0, 0, 2});
  std::vector<float> in_turn;
  for (std::size_t i = 0; i < flute.size(); ++i) {
    in_turn.push_back(i < street.size() ? street[i] : 0);
    in_turn.push_back(flute[i]);
  }
  const auto found = heard(wav_of_channels(in_turn, 44'100, 2));
  ASSERT_TRUE(found.value);
  ASSERT_EQ(found.value->size(), 2u);
  EXPECT_NEAR(found.value->front().pitch.hz, 600, 0.01);
}

// Channels that cancel each other when they are mixed.
TEST(Hear, HearsChannelsOfOppositeSign) {
  const std::vector<float> flute = played({{600, 1}}, {44'100, 0.001});
  std::vector<float> in_turn;
  for (const float sample : flute) {
    in_turn.push_back(sample);
    in_turn.push_back(-sample);
  }
  const auto found = heard(wav_of_channels(in_turn, 44'100, 2));
  ASSERT_TRUE(found.value);
  EXPECT_EQ(found.value->size(), 1u);
}

TEST(Hear, MeasuresAVeryLongToneOnce) {
  const auto found = heard({{600, 40, 0.5}}, {8'000, 0.001});
  ASSERT_TRUE(found.value);
  ASSERT_EQ(found.value->size(), 1u);
  EXPECT_NEAR(found.value->front().end, 40.3, 0.1);
  EXPECT_NEAR(found.value->front().pitch.hz, 600, 0.01);
}

TEST(Hear, NeverTakesTheWrongOctave) {
  std::mt19937_64 random(7);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random() >> 11) * 0x1p-53;
  };
  for (std::uint64_t round = 0; round < support::rounds(10); ++round) {
    std::vector<PlayedTone> tones;
    for (int i = 0; i < 10; ++i) {
      tones.push_back({300 * std::exp2(between(0, 3.4)), 0.5, 0.2});
      for (double& partial : tones.back().partials) partial *= between(0.3, 1);
      if (i % 2 == 1) tones.back().partials = weak_fundamental();
    }
    expect_exactly(tones, {44'100, 0.01, 0, 0, round}, 4);
  }
}

// Partials that only the lower octave has, 20 dB weaker than the others: it may be either.
TEST(Hear, DoubtsTheOctaveWhereTheSoundLeavesItOpen) {
  PlayedTone tone{600, 1};
  tone.partials = {0.1, 1, 0.02, 0.4, 0.01, 0.2};
  const auto found = heard({tone});
  ASSERT_TRUE(found.value);
  ASSERT_EQ(found.value->size(), 1u);
  EXPECT_NE(found.value->front().pitch.octave, OctaveDoubt::none);
}

TEST(Recordings, AreRefusedWithAReason) {
  for (const std::string& bytes :
       {std::string(), std::string("no sound"), std::string("RIFF\x24\0\0\0WAVEfmt ", 16)}) {
    const auto opened = Recording::open(base::bytes_of(bytes));
    EXPECT_FALSE(opened.value);
    EXPECT_EQ(opened.diagnostics.size(), 1u);
  }
  EXPECT_FALSE(recording_of(wav_of(std::vector<float>(100), 4'000)));
  EXPECT_FALSE(recording_of(wav_of(std::vector<float>(100), 44'100, 33)));
}

TEST(Recordings, EndWhereTheFileEnds) {
  const std::string whole = wav_of(played({{600, 1}, {700, 1}}), 44'100);
  for (const std::size_t size : {whole.size() / 2, std::size_t{100}, std::size_t{44}}) {
    auto recording = recording_of(whole.substr(0, size));
    if (!recording) continue;
    const auto found = hear(*recording);
    EXPECT_EQ(found.value ? found.value->size() : 0, size > 1000 ? 1u : 0u);
  }
}

}  // namespace
}  // namespace yubifu::hearing
