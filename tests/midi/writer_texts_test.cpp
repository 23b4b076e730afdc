// What stands beside the notes: texts, lyrics, meters, keys.
#include <gmock/gmock.h>

#include "midi/written_midi.h"

namespace yubifu::midi {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::Not;

MidiWriteOptions with(Lyrics lyrics) {
  MidiWriteOptions options;
  options.lyrics = lyrics;
  return options;
}

TEST(MidiTexts, KeepsTheHeader) {
  const WrittenMidi file = written(
      "title: 渡し\nsubtitle: S\ncomposer: C\nlyricist: L\nsource: Q\nrights: R\n"
      "flute: 6+15c\ntuning: 442\nmeter: 3/4\nbeat: 1/8\ntempo: 1/4=60\nkey: Bb\n"
      "staff: sounding\nzero: tube\n\n三 三 三 三 三 三 |=\n");
  EXPECT_THAT(file.events(0, {"name", "copyright", "text"}),
              ElementsAre("0 name 渡し", "0 copyright R", "0 text yubifu.subtitle: S",
                          "0 text yubifu.composer: C", "0 text yubifu.lyricist: L",
                          "0 text yubifu.source: Q", "0 text yubifu.flute: 6+15c",
                          "0 text yubifu.tuning: 442", "0 text yubifu.beat: 1/8",
                          "0 text yubifu.staff: sounding", "0 text yubifu.zero: tube",
                          "0 text yubifu.ticks: 480", "0 text yubifu.lyrics: fingering"));
  EXPECT_THAT(file.events(0, {"meter", "key", "tempo"}),
              ElementsAre("0 meter 3 4 24 8", "0 key -2 major", "0 tempo 1000000"));
}

TEST(MidiTexts, MarksSectionsAndPutsWordsAtTheirPlace) {
  EXPECT_THAT(
      written("{section \"A\"} 三 三 {text \"slowly\"} 三 三 || {section \"B\"} 三 三 三 三 |=")
          .events(0, {"marker", "text"}),
      ElementsAre("0 text yubifu.flute: 6", "0 text yubifu.ticks: 480",
                  "0 text yubifu.lyrics: fingering", "0 marker A", "960 text slowly",
                  "1920 marker B"));
}

TEST(MidiTexts, MarksASectionEachTimeItIsPlayed) {
  EXPECT_THAT(written("|: {section \"A\"} 三 三 三 三 :|").events(0, {"marker"}),
              ElementsAre("0 marker A", "1920 marker A"));
}

// Clocks of the felt beat: a dotted quarter in 6/8, a half in 2/2 (SMF 1.1: 24 a quarter).
TEST(MidiTexts, StatesMeters) {
  EXPECT_THAT(
      written(
          "flute: 6\nmeter: 6/8\n\n三 三 三 三 三 三 | {meter 2/2} 三 三 | {meter 3/4} 三 三 三 "
          "|=\n")
          .events(0, {"meter"}),
      ElementsAre("0 meter 6 8 36 8", "1440 meter 2 2 48 8", "3360 meter 3 4 24 8"));
}

// Other programs count bars from time signatures alone: the pickup is a bar of its own.
TEST(MidiTexts, StatesAMeterForAShortFirstBar) {
  EXPECT_THAT(written("三 | 三 三 三 三 | 三 三 三 三 |=").events(0, {"meter"}),
              ElementsAre("0 meter 1 4 24 8", "480 meter 4 4 24 8"));
}

TEST(MidiTexts, JoinsABarThatARepeatSignParts) {
  EXPECT_THAT(written("三 三 三 三 | 三 三 || 三 三 | 三 三 三 三 |=").events(0, {"meter"}),
              ElementsAre("0 meter 4 4 24 8"));
}

// Half a bar that is repeated is a bar of its own each time; half a bar and the other half are one.
TEST(MidiTexts, DoesNotJoinABarWithItself) {
  EXPECT_THAT(written("三 三 三 三 |: {irregular} 四 四 :| 五 五 五 五 |=").events(0, {"meter"}),
              ElementsAre("0 meter 4 4 24 8", "1920 meter 2 4 24 8", "3840 meter 4 4 24 8"));
}

TEST(MidiTexts, JoinsThePickupWithTheBarBeforeTheRepeat) {
  EXPECT_THAT(written("|: 三 | 四 四 四 四 | 五 五 五 :|").events(0, {"meter"}),
              ElementsAre("0 meter 1 4 24 8", "480 meter 4 4 24 8", "6240 meter 3 4 24 8"));
}

TEST(MidiTexts, StatesIrregularBars) {
  EXPECT_THAT(written("三 三 三 三 | {irregular} 三 三 三 三 (三 三) | 三 三 三 三 |=")
                  .events(0, {"meter"}),
              ElementsAre("0 meter 4 4 24 8", "1920 meter 5 4 24 8", "4320 meter 4 4 24 8"));
}

TEST(MidiTexts, HasNoMeterInFreeTime) {
  const WrittenMidi free = written("flute: 6\nmeter: free\n\n三 三 三 | 三 三 |=\n");
  EXPECT_THAT(free.events(0, {"meter"}), IsEmpty());
  EXPECT_THAT(free.events(0, {"text"}), Contains("0 text yubifu.meter: free"));
}

TEST(MidiTexts, ChangesTheKey) {
  EXPECT_THAT(written("flute: 6\nkey: F# minor\n\n三 三 {key Eb} 三 三 |=\n").events(0, {"key"}),
              ElementsAre("0 key 3 minor", "960 key -3 major"));
}

TEST(MidiLyrics, SayTheFingering) {
  EXPECT_THAT(written("筒 一メ 2̇ 8 | 三メ↓20 0 ?F#4 七カ |=").said, Not(IsEmpty()));
  EXPECT_THAT(written("筒 二メ 2̇ 8 | 三メ↓20 0 ?F#4 - |=").events(1, {"lyric"}),
              ElementsAre("0 lyric 筒", "480 lyric 二メ", "960 lyric 2̇", "1440 lyric 8",
                          "1920 lyric 三メ↓20", "2400 lyric 0"));
}

TEST(MidiLyrics, SayTheSongWithAHyphenInsideAWord) {
  const WrittenMidi song = written(
      "flute: 6\n\n三 三 三 三 | 三 三 三 ・ |=\n> みな- と / の ~ あ‿い\n", with(Lyrics::song));
  EXPECT_THAT(song.events(1, {"lyric"}),
              ElementsAre("0 lyric みな-", "480 lyric と", "1440 lyric の", "2400 lyric あ‿い"));
  EXPECT_THAT(song.events(0, {"text"}), Not(Contains("0 text yubifu.lyrics: fingering")));
}

TEST(MidiLyrics, SayTheNextVerseEachTime) {
  const std::string tune = "flute: 6\n\n|: 三 三 三 三 :|x3\n> あ い う え\n>2 か き / け\n";
  EXPECT_THAT(written(tune, with(Lyrics::song)).events(1, {"lyric"}),
              ElementsAre("0 lyric あ", "480 lyric い", "960 lyric う", "1440 lyric え",
                          "1920 lyric か", "2400 lyric き", "2880 lyric う", "3360 lyric け",
                          "3840 lyric か", "4320 lyric き", "4800 lyric う", "5280 lyric け"));
}

TEST(MidiLyrics, SayTheSyllablesOfThePart) {
  const std::string tune = "flute: 6\n\n三 三 三 三 |=\n> あ い う え\n>shoga ヒャ イ トー ロ\n";
  EXPECT_THAT(written(tune, with(Lyrics::shoga)).events(1, {"lyric"}),
              ElementsAre("0 lyric ヒャ", "480 lyric イ", "960 lyric トー", "1440 lyric ロ"));
  EXPECT_THAT(written(tune, with(Lyrics::none)).events(1, {"lyric"}), IsEmpty());
}

}  // namespace
}  // namespace yubifu::midi
