// Practice sound, tick by tick: bars, tempo, times, count-in, click.
// The flute of size 6: 三 四 五 六 七 are the keys 74 75 77 79 81.
#include <gmock/gmock.h>

#include "midi/written_midi.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::ElementsAreArray;
using testing::IsEmpty;

// Bars 0 to 4, the first and the last short.
constexpr std::string_view kPickupTune =
    "三 | 四 四 四 四 | 五 五 五 五 | 六 六 六 六 | 七 七 七 |=";
constexpr std::string_view kFourBars = "三 三 三 三 | 四 四 四 四 | 五 五 五 五 | 六 六 六 六 |=";

MidiWriteOptions practice(const Practice& practice) {
  MidiWriteOptions options;
  options.practice = practice;
  return options;
}

MidiWriteOptions bars(int first, int last) {
  return practice({.bars = BarRange{first, last}});
}

// The keys of the notes, each as often as it is struck in turn: "75*4 77".
std::vector<std::string> keys(const WrittenMidi& file) {
  std::vector<std::string> found;
  int count = 0;
  for (const std::string& note : file.notes()) {
    const std::string key = note.substr(note.find(' ') + 1);
    const bool again = !found.empty() && found.back().starts_with(key);
    count = again ? count + 1 : 1;
    if (again) {
      found.back() = key + "*" + std::to_string(count);
    } else {
      found.push_back(key);
    }
  }
  return found;
}

// Ticks of the clicks, those that begin a bar with a star.
std::vector<std::string> clicks(const WrittenMidi& file) {
  std::vector<std::string> found;
  for (const std::string& event : file.events(2, {"on"})) {
    const std::string tick = event.substr(0, event.find(' '));
    found.push_back(event.ends_with("on 9 76 110") ? tick + "*" : tick);
    if (!event.ends_with("on 9 76 110")) {
      EXPECT_TRUE(event.ends_with("on 9 77 80")) << event;
    }
  }
  return found;
}

TEST(PracticeBars, AreReadFromTheirNumbers) {
  EXPECT_EQ(parse_bar_range("5-8"), (BarRange{5, 8}));
  EXPECT_EQ(parse_bar_range("0"), (BarRange{0, 0}));
  for (const char* wrong : {"", "-", "5-", "-5", "8-5", "5-8-9", "5 - 8", "a", "99999999999"}) {
    EXPECT_EQ(parse_bar_range(wrong), std::nullopt) << wrong;
  }
}

TEST(PracticeBars, AreCutOutAndBeginAtOnce) {
  const WrittenMidi two = written(kPickupTune, bars(2, 3));
  EXPECT_THAT(two.notes(),
              ElementsAre("0-480 77", "480-960 77", "960-1440 77", "1440-1920 77", "1920-2400 79",
                          "2400-2880 79", "2880-3360 79", "3360-3840 79"));
  EXPECT_THAT(two.events(1, {"end"}), ElementsAre("3840 end"));
  EXPECT_THAT(two.events(0, {"meter", "end"}), ElementsAre("0 meter 4 4 24 8", "3840 end"));
}

TEST(PracticeBars, HaveThePickupAsBarZero) {
  EXPECT_THAT(keys(written(kPickupTune, bars(0, 1))), ElementsAre("74", "75*4"));
  EXPECT_THAT(keys(written(kPickupTune, bars(0, 0))), ElementsAre("74"));
  EXPECT_THAT(keys(written(kFourBars, bars(1, 1))), ElementsAre("74*4"));
}

TEST(PracticeBars, TakeWhatIsInForceWithThem) {
  const WrittenMidi third = written(
      "flute: 6\ntempo: 60\nkey: Bb\n\n三 三 三 三 | {tempo 90} {section \"B\"} 四 四 {key Eb} 四 "
      "四 | "
      "{flute 7} 五 五 {text \"here\"} 五 五 | {tempo 120} 六 六 六 六 |=\n",
      bars(3, 3));
  EXPECT_THAT(third.events(0, {"tempo", "key", "marker", "text", "meter"}),
              ElementsAre("0 text yubifu.flute: 6", "0 text yubifu.ticks: 480",
                          "0 text yubifu.lyrics: fingering", "0 text yubifu.flute: 7",
                          "0 meter 4 4 24 8", "0 key -3 major", "0 tempo 666667", "960 text here"));
  EXPECT_THAT(keys(third), ElementsAre("78*4"));
}

TEST(PracticeBars, StrikeANoteThatIsHeldIntoThem) {
  const WrittenMidi held = written("三 三 三 四 | - - 五 五{fermata} | - 六 六 六 |=", bars(2, 2));
  EXPECT_THAT(held.notes(), ElementsAre("0-960 75", "960-1440 77", "1440-1920 77"));
  EXPECT_THAT(held.events(1, {"lyric"}),
              ElementsAre("0 lyric 四", "960 lyric 五", "1440 lyric 五"));
  EXPECT_THAT(held.tempos(), ElementsAre("0 tempo 500000", "1440 tempo 1000000"));
}

TEST(PracticeBars, AreHeardOnceWhereARepeatPlaysThemAgain) {
  constexpr std::string_view tune = "|: 三 三 三 三 | 四 四 四 四 :|x3 五 五 五 五 |=";
  EXPECT_THAT(keys(written(tune, bars(1, 1))), ElementsAre("74*4"));
  EXPECT_THAT(keys(written(tune, bars(1, 2))), ElementsAre("74*4", "75*4"));
  EXPECT_THAT(keys(written(tune, bars(2, 3))), ElementsAre("75*4", "77*4"));
  EXPECT_THAT(keys(written("|: 三 三 三 三 :|x3", bars(1, 1))), ElementsAre("74*4"));
}

TEST(PracticeBars, MayBeShortAndRepeated) {
  constexpr std::string_view tune = "三 三 三 三 |: {irregular} 四 四 :| 五 五 五 五 |=";
  EXPECT_THAT(keys(written(tune, bars(2, 2))), ElementsAre("75*2"));
  EXPECT_THAT(keys(written(tune, bars(1, 3))), ElementsAre("74*4", "75*4", "77*4"));
}

TEST(PracticeBars, AreAllHeardAlsoWithEndings) {
  constexpr std::string_view tune =
      "|: 三 三 三 三 | {ending 1} 四 四 四 四 :| {ending 2} 五 五 五 五 |=";
  EXPECT_THAT(keys(written(tune, bars(1, 3))), ElementsAre("74*4", "75*4", "74*4", "77*4"));
  EXPECT_THAT(keys(written(tune, bars(1, 2))), ElementsAre("74*4", "75*4"));
  EXPECT_THAT(keys(written(tune, bars(3, 3))), ElementsAre("77*4"));
}

TEST(PracticeBars, AreWholeWhereARepeatSignPartsThem) {
  constexpr std::string_view tune = "|: 三 三 三 三 | 四 四 :| 五 五 | 六 六 六 六 |=";
  EXPECT_THAT(keys(written(tune, bars(2, 2))), ElementsAre("75*2", "77*2"));
  EXPECT_THAT(keys(written(tune, bars(2, 3))), ElementsAre("75*2", "77*2", "79*4"));
  EXPECT_THAT(keys(written(tune, bars(1, 2))), ElementsAre("74*4", "75*2", "77*2"));
}

TEST(PracticeBars, MustExist) {
  for (const auto& [range, message] : std::vector<std::pair<BarRange, std::string>>{
           {{3, 9}, "there is no bar 9: the bars that are played are 1 to 4"},
           {{7, 8}, "there is no bar 7: the bars that are played are 1 to 4"},
           {{0, 1}, "there is no bar 0: the bars that are played are 1 to 4"}}) {
    const auto outcome = write_midi(score_of(kFourBars), practice({.bars = range}));
    EXPECT_FALSE(outcome.value);
    ASSERT_EQ(outcome.diagnostics.size(), 1U);
    EXPECT_EQ(outcome.diagnostics[0].message, message);
    EXPECT_EQ(outcome.diagnostics[0].rule->name, "bars-not-played");
  }
}

TEST(PracticeTempo, IsAPartOfEveryTempo) {
  EXPECT_THAT(written("flute: 6\ntempo: 120\n\n三 三 {tempo 60} 三 三{fermata} |=\n",
                      practice({.tempo_percent = 50}))
                  .tempos(),
              ElementsAre("0 tempo 1000000", "960 tempo 2000000", "1440 tempo 4000000",
                          "1920 tempo 2000000"));
}

TEST(PracticeTimes, PlayEverythingAgainAndAgain) {
  const WrittenMidi twice =
      written("flute: 6\ntempo: 60\n\n三 三 {tempo 90} 四 四 |=\n", practice({.times = 2}));
  EXPECT_THAT(twice.notes(),
              ElementsAre("0-480 74", "480-960 74", "960-1440 75", "1440-1920 75", "1920-2400 74",
                          "2400-2880 74", "2880-3360 75", "3360-3840 75"));
  EXPECT_THAT(twice.tempos(), ElementsAre("0 tempo 1000000", "960 tempo 666667",
                                          "1920 tempo 1000000", "2880 tempo 666667"));
  EXPECT_THAT(twice.events(1, {"end"}), ElementsAre("3840 end"));
}

TEST(PracticeTimes, KeepTheLengthOfRestsAtTheEnd) {
  EXPECT_THAT(written("三 ・ ・ ・ |=", practice({.times = 3})).notes(),
              ElementsAre("0-480 74", "1920-2400 74", "3840-4320 74"));
}

TEST(PracticeClick, MarksBarsAndBeats) {
  const WrittenMidi clicked =
      written("三 三 三 三 | 四 四 四 四 |=", practice({.click = Click::on}));
  EXPECT_EQ(clicked.tracks.size(), 3U);
  EXPECT_THAT(clicks(clicked),
              ElementsAre("0*", "480", "960", "1440", "1920*", "2400", "2880", "3360"));
  EXPECT_EQ(clicked.tracks[2][0], "0 name Click");
  EXPECT_THAT(
      clicked.events(2, {"off"}),
      ElementsAre("60 off 9 76 64", "540 off 9 77 64", "1020 off 9 77 64", "1500 off 9 77 64",
                  "1980 off 9 76 64", "2460 off 9 77 64", "2940 off 9 77 64", "3420 off 9 77 64"));
}

TEST(PracticeClick, CountsTheBeatsOfEachMeter) {
  EXPECT_THAT(clicks(written("flute: 6\nmeter: 6/8\n\n三 三 三 三 三 三 | {meter 3/4} 三 三 三 | "
                             "{meter 5/8} 三 三 三 三 三 | {meter 2/2} 三 三 |=\n",
                             practice({.click = Click::on}))),
              ElementsAre("0*", "720", "1440*", "1920", "2400", "2880*", "3120", "3360", "3600",
                          "3840", "4080*", "5040"));
}

TEST(PracticeClick, CountsBackFromTheEndOfThePickup) {
  EXPECT_THAT(clicks(written("(5):1/2 三 | 四 四 四 四 |=", practice({.click = Click::on}))),
              ElementsAre("240", "720*", "1200", "1680", "2160"));
}

TEST(PracticeClick, StaysSilentInFreeTime) {
  const WrittenMidi free =
      written("flute: 6\nmeter: free\n\n三 三 三 |=\n", practice({.click = Click::on}));
  EXPECT_EQ(free.tracks.size(), 2U);
  EXPECT_THAT(free.said, ElementsAre("note no-click"));
  const WrittenMidi partly = written("flute: 6\nmeter: free\n\n三 三 三 | {meter 2/4} 三 三 |=\n",
                                     practice({.count_in_bars = 1, .click = Click::on}));
  EXPECT_THAT(clicks(partly), ElementsAre("1440*", "1920"));
  EXPECT_THAT(partly.said, ElementsAre("note no-click"));
}

TEST(PracticeCountIn, GivesBarsOfClicksBeforeTheMusic) {
  const WrittenMidi counted = written(
      "flute: 6\ntempo: 80\nkey: Bb\nmeter: 3/4\n\n{section \"A\"} 三 三 三 | {tempo 90} 四 四 四 "
      "|=\n",
      practice({.count_in_bars = 2}));
  EXPECT_THAT(clicks(counted), ElementsAre("0*", "480", "960", "1440*", "1920", "2400"));
  EXPECT_EQ(counted.notes().front(), "2880-3360 74");
  EXPECT_THAT(counted.events(0, {"tempo", "key", "meter", "marker", "end"}),
              ElementsAre("0 meter 3 4 24 8", "0 key -2 major", "0 tempo 750000", "2880 marker A",
                          "4320 tempo 666667", "5760 end"));
}

// One bar and what the pickup's bar lacks: seven beats, then the pickup on the eighth.
TEST(PracticeCountIn, FillsTheBarOfThePickup) {
  const WrittenMidi counted = written(kPickupTune, practice({.count_in_bars = 1}));
  EXPECT_THAT(clicks(counted), ElementsAre("0*", "480", "960", "1440", "1920*", "2400", "2880"));
  EXPECT_EQ(counted.notes().front(), "3360-3840 74");
  EXPECT_EQ(counted.notes()[1], "3840-4320 75");
  EXPECT_EQ(counted.events(0, {"meter"}).front(), "0 meter 4 4 24 8");
}

TEST(PracticeCountIn, IsNotSlowedByAFermataOnTheFirstNote) {
  EXPECT_THAT(
      written("flute: 6\ntempo: 60\n\n三{fermata} 四 五 六 |=\n", practice({.count_in_bars = 1}))
          .tempos(),
      ElementsAre("0 tempo 1000000", "1920 tempo 2000000", "2400 tempo 1000000"));
}

// Bars 2 and 3 of the tune in 4/4 at 60 %, three times, after one bar of counting: the first tempo
// is 100 * 60 % = 60 quarters a minute.
TEST(Practice, CombinesEverything) {
  const WrittenMidi file =
      written("flute: 6\ntempo: 100\n\n三 | 四 四 四 四 | 五 五 五 五 | 六 - - - |=\n",
              practice({.bars = BarRange{2, 3},
                        .tempo_percent = 60,
                        .times = 3,
                        .count_in_bars = 1,
                        .click = Click::on}));
  std::vector<std::string> expected_notes;
  std::vector<std::string> expected_clicks{"0*", "480", "960", "1440"};
  for (int time = 0; time < 3; ++time) {
    const int begin = 1920 + time * 3840;
    for (int note = 0; note < 4; ++note) {
      const int at = begin + 480 * note;
      expected_notes.push_back(std::to_string(at) + "-" + std::to_string(at + 480) + " 77");
    }
    expected_notes.push_back(std::to_string(begin + 1920) + "-" + std::to_string(begin + 3840) +
                             " 79");
    for (int beat = 0; beat < 8; ++beat) {
      expected_clicks.push_back(std::to_string(begin + 480 * beat) + (beat % 4 == 0 ? "*" : ""));
    }
  }
  EXPECT_THAT(file.notes(), ElementsAreArray(expected_notes));
  EXPECT_THAT(clicks(file), ElementsAreArray(expected_clicks));
  EXPECT_THAT(file.tempos(),
              ElementsAre("0 tempo 1000000", "5760 tempo 1000000", "9600 tempo 1000000"));
  EXPECT_THAT(file.events(1, {"end"}), ElementsAre("13440 end"));
  EXPECT_THAT(file.said, IsEmpty());
}

// In a tune that begins with a pickup each further time begins with it too.
TEST(Practice, RepeatsThePickup) {
  const WrittenMidi file =
      written("三 | 四 四 四 四 | 五 五 五 |=", practice({.times = 2, .click = Click::on}));
  EXPECT_THAT(clicks(file),
              ElementsAre("0", "480*", "960", "1440", "1920", "2400*", "2880", "3360", "3840",
                          "4320*", "4800", "5280", "5760", "6240*", "6720", "7200"));
  EXPECT_EQ(file.notes()[8], "3840-4320 74");
}

}  // namespace
}  // namespace yubifu::midi
