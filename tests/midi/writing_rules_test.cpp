// Each rule of the writer with its wrong example and its right one, which rules.h tells in words.
#include <cstdint>

#include <gmock/gmock.h>

#include "midi/written_midi.h"
#include "model/rational.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

MidiWriteOptions with_ticks(int ppq) {
  MidiWriteOptions options;
  options.ppq = ppq;
  return options;
}

MidiWriteOptions with_practice(const Practice& practice) {
  MidiWriteOptions options;
  options.practice = practice;
  return options;
}

TEST(WritingRules, MissingPitch) {
  model::Score score = score_of("三 四 五 六 |=");
  score.notes[1].tone.pitch.reset();
  EXPECT_THAT(written(score).said, ElementsAre("error missing-pitch in bar 1"));
  score = score_of("三 四{pre 五} 五 六 |=");
  score.notes[1].grace_before[0].pitch.reset();
  EXPECT_THAT(written(score).said, ElementsAre("error missing-pitch in bar 1"));
  EXPECT_THAT(written("三 四 五 六 |=").said, IsEmpty());
}

model::Score with_short_grace(const model::Rational& duration) {
  model::Score score = score_of("三{pre 四} 四 五 六 |=");
  score.notes[0].duration = duration;
  return score;
}

TEST(WritingRules, TickOverflow) {
  EXPECT_THAT(written(with_short_grace({1, 9'000'000'000'000'000'000})).said,
              ElementsAre("error tick-overflow in bar 1"));
  EXPECT_THAT(written(with_short_grace({1, 16})).said, IsEmpty());
}

TEST(WritingRules, MusicTooLong) {
  model::Score score = score_of("三 四 五 六 |=");
  score.measures[0].length = 1'000'000;
  score.measures[0].irregular = true;
  EXPECT_THAT(written(score, with_ticks(32767)).said, ElementsAre("error music-too-long"));
  EXPECT_THAT(written(score, with_ticks(480)).said, IsEmpty());
  EXPECT_THAT(written(score, with_practice({.times = 1000})).said,
              ElementsAre("error music-too-long"));
}

TEST(WritingRules, BarsNotPlayed) {
  constexpr std::string_view tune = "三 三 三 三 | 三 三 三 三 | 三 三 三 三 | 三 三 三 三 |=";
  EXPECT_THAT(written(tune, with_practice({.bars = BarRange{5, 8}})).said,
              ElementsAre("error bars-not-played"));
  EXPECT_THAT(written(tune, with_practice({.bars = BarRange{1, 4}})).said, IsEmpty());
}

TEST(WritingRules, MidiOption) {
  std::vector<MidiWriteOptions> wrong(8);
  wrong[0].program = 129;
  wrong[1].program = 0;
  wrong[2].velocity = 128;
  wrong[3].velocity = 0;
  wrong[4].ppq = 23;
  wrong[5].ppq = 32768;
  wrong[6].practice.times = 0;
  wrong[7].practice.count_in_bars = 17;
  for (const MidiWriteOptions& options : wrong) {
    EXPECT_THAT(written("三 |=", options).said, ElementsAre("error midi-option"));
  }
  MidiWriteOptions right;
  right.program = 74;
  EXPECT_THAT(written("三 |=", right).said, IsEmpty());
}

TEST(WritingRules, TickRounding) {
  EXPECT_THAT(written("(三 四 五) - - - |=", with_ticks(100)).said,
              ElementsAre("warning tick-rounding in bar 1"));
  EXPECT_THAT(written("(三 四 五) - - - |=", with_ticks(480)).said, IsEmpty());
}

TEST(WritingRules, KeyRange) {
  model::Score score = score_of("三 四 五 六 |=");
  score.notes[0].tone.pitch = model::Pitch{132, 0};
  EXPECT_THAT(written(score).said, ElementsAre("warning key-range in bar 1"));
  score.notes[0].tone.pitch = model::Pitch{84, 0};
  EXPECT_THAT(written(score).said, IsEmpty());
}

TEST(WritingRules, TempoRange) {
  EXPECT_THAT(written("flute: 6\ntempo: 2\n\n三 |=\n").said, ElementsAre("warning tempo-range"));
  EXPECT_THAT(written("flute: 6\ntempo: 4\n\n三 |=\n").said, IsEmpty());
}

TEST(WritingRules, MarkLeftOut) {
  EXPECT_THAT(written("三 四{trill} 五 六 | 三{trill} 三 三~ 三 |=").said,
              ElementsAre("note mark-left-out in bar 2", "note mark-left-out in bar 1, 2"));
  EXPECT_THAT(written("三 {dyn zz} 四 五 六 |=").said, ElementsAre("note mark-left-out in bar 1"));
  EXPECT_THAT(written("三 四 五{fermata} 六{accent} |=").said, IsEmpty());
}

TEST(WritingRules, VerseLeftOut) {
  constexpr std::string_view song = "flute: 6\n\n三 四 五 六 |=\n> あ い う え\n";
  EXPECT_THAT(written(song).said, ElementsAre("note verse-left-out"));
  MidiWriteOptions options;
  options.lyrics = Lyrics::song;
  EXPECT_THAT(written(song, options).said, IsEmpty());
}

TEST(WritingRules, CommentLeftOut) {
  EXPECT_THAT(written("flute: 6\n\n三 四 五 六 |= # slowly\n").said,
              ElementsAre("note comment-left-out"));
}

TEST(WritingRules, NoClick) {
  const MidiWriteOptions counted = with_practice({.count_in_bars = 1});
  EXPECT_THAT(written("flute: 6\nmeter: free\n\n三 三 |=\n", counted).said,
              ElementsAre("note no-click"));
  EXPECT_THAT(written("三 三 三 三 |=", counted).said, IsEmpty());
}

}  // namespace
}  // namespace yubifu::midi
