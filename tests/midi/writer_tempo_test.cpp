// The tempo track. A tempo event is 60,000,000 microseconds over the quarter notes a minute.
#include <gmock/gmock.h>

#include "midi/written_midi.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

std::vector<std::string> tempos(std::string_view tempo, std::string_view music) {
  return written("flute: 6\ntempo: " + std::string(tempo) + "\n\n" + std::string(music) + "\n")
      .tempos();
}

// SMF 1.1: 120 quarter notes a minute where nothing is said.
TEST(MidiTempo, IsThatOfTheHeader) {
  EXPECT_THAT(written("三 |=").tempos(), ElementsAre("0 tempo 500000"));
  EXPECT_THAT(tempos("76", "三 |="), ElementsAre("0 tempo 789474"));
  EXPECT_THAT(tempos("1/8=90", "三 |="), ElementsAre("0 tempo 1333333"));
}

TEST(MidiTempo, CountsDottedQuartersInCompoundMeters) {
  EXPECT_THAT(written("flute: 6\nmeter: 6/8\ntempo: 80\n\n三 三 三 三 三 三 |=\n").tempos(),
              ElementsAre("0 tempo 500000"));
}

TEST(MidiTempo, ChangesWhereItIsWritten) {
  EXPECT_THAT(tempos("60", "三 三 {tempo 90} 三 三 | 三 三 三 三 |="),
              ElementsAre("0 tempo 1000000", "960 tempo 666667"));
}

// Nothing is set after it: three quarters of 80, in steps of half a quarter, over the four left.
TEST(MidiTempo, SlowsDownInSteps) {
  EXPECT_THAT(tempos("80", "三 三 三 三 | {rit} 三 三 三 三 |="),
              ElementsAre("0 tempo 750000", "1920 tempo 774194", "2160 tempo 800000",
                          "2400 tempo 827586", "2640 tempo 857143", "2880 tempo 888889",
                          "3120 tempo 923077", "3360 tempo 960000", "3600 tempo 1000000"));
}

TEST(MidiTempo, SlowsDownToTheTempoThatIsSetNext) {
  EXPECT_THAT(tempos("80", "{rit} 三 三 三 三 | {tempo 40} 三 三 三 三 |="),
              ElementsAre("0 tempo 800000", "240 tempo 857143", "480 tempo 923077",
                          "720 tempo 1000000", "960 tempo 1090909", "1200 tempo 1200000",
                          "1440 tempo 1333333", "1680 tempo 1500000"));
}

// Four thirds of 60 are 80, reached over one quarter; then the tempo from before.
TEST(MidiTempo, HurriesAndGoesBack) {
  EXPECT_THAT(tempos("60", "三 三 三 {accel} 三 | {a-tempo} 三 三 三 三 |="),
              ElementsAre("0 tempo 1000000", "1440 tempo 857143", "1680 tempo 750000",
                          "1920 tempo 1000000"));
}

// A tempo that is no faster is no aim: the music hurries all the same.
TEST(MidiTempo, HurriesBeforeATempoThatIsNotFaster) {
  EXPECT_THAT(tempos("60", "三 三 三 {accel} 三 | {tempo 60} 三 三 三 三 |="),
              ElementsAre("0 tempo 1000000", "1440 tempo 857143", "1680 tempo 750000",
                          "1920 tempo 1000000"));
}

TEST(MidiTempo, RampsLastAtMostEightQuarters) {
  const auto long_ramp = tempos("60", "{rit} 三 三 三 三 | 三 三 三 三 | 三 三 三 三 |=");
  EXPECT_EQ(long_ramp.size(), 16U);
  EXPECT_EQ(long_ramp.back(), "3600 tempo 1333333");
}

TEST(MidiTempo, HalvesUnderAFermataAndKeepsTheTicks) {
  const WrittenMidi held = written("三 五{fermata} 三 ・{fermata} | 三 三 三 三{fermata} |=");
  EXPECT_THAT(held.tempos(), ElementsAre("0 tempo 500000", "480 tempo 1000000", "960 tempo 500000",
                                         "1440 tempo 1000000", "1920 tempo 500000",
                                         "3360 tempo 1000000", "3840 tempo 500000"));
  EXPECT_THAT(held.notes(), ElementsAre("0-480 74", "480-960 77", "960-1440 74", "1920-2400 74",
                                        "2400-2880 74", "2880-3360 74", "3360-3840 74"));
}

TEST(MidiTempo, HalvesWhatARampGives) {
  EXPECT_THAT(tempos("80", "三 三 {rit} 三 三{fermata} |="),
              ElementsAre("0 tempo 750000", "960 tempo 800000", "1200 tempo 857143",
                          "1440 tempo 1846154", "1680 tempo 2000000", "1920 tempo 1000000"));
}

// The rest of the piece is played again at the tempo in which it stands on paper.
TEST(MidiTempo, GoesBackWithARepeat) {
  EXPECT_THAT(tempos("60", "|: 三 三 {tempo 90} 三 三 :| 三 三 三 三 |="),
              ElementsAre("0 tempo 1000000", "960 tempo 666667", "1920 tempo 1000000",
                          "2880 tempo 666667"));
}

// Three bytes hold 16,777,215 microseconds at most.
TEST(MidiTempo, HasASlowestOne) {
  const WrittenMidi slow = written("flute: 6\ntempo: 2\n\n三 |=\n");
  EXPECT_THAT(slow.tempos(), ElementsAre("0 tempo 16777215"));
  EXPECT_THAT(slow.said, ElementsAre("warning tempo-range"));
  EXPECT_THAT(written("flute: 6\ntempo: 4\n\n三 |=\n").said, IsEmpty());
}

}  // namespace
}  // namespace yubifu::midi
