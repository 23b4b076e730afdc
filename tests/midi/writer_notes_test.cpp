// The notes that the writer makes: bytes, ticks, pitches, loudness.
// The keys are those of the flute of size 6 (一 is B♭4, key 70), counted by hand.
#include <gmock/gmock.h>

#include "midi/midi_bytes.h"
#include "midi/written_midi.h"

namespace yubifu::midi {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Typed from the tables of SMF 1.1 and MIDI 1.0. The bend of 20 cents down in a range of 200 is
// 8192 - 0.1 * 8192 = 7373, which is 4D 39 in bytes of seven bits, the low one first.
TEST(MidiWriter, WritesTheBytesOfATinyScore) {
  const std::string tempo_track =
      hex("00 FF 03 01 54"                                                  // T
          "00 FF 01 0F 79 75 62 69 66 75 2E 66 6C 75 74 65 3A 20 36"        // yubifu.flute: 6
          "00 FF 01 11 79 75 62 69 66 75 2E 74 69 63 6B 73 3A 20 34 38 30"  // yubifu.ticks: 480
          "00 FF 01 18 79 75 62 69 66 75 2E 6C 79 72 69 63 73 3A 20"        // yubifu.lyrics:
          "66 69 6E 67 65 72 69 6E 67"                                      // fingering
          "00 FF 58 04 04 02 18 08"                                         // 4/4
          "00 FF 51 03 09 27 C0"                                            // 600,000 µs
          "8F 00 FF 2F 00");                                                // tick 1920
  const std::string flute_track =
      hex("00 FF 03 0A 53 68 69 6E 6F 62 75 65 20 36"                    // Shinobue 6
          "00 C0 49"                                                     // flute
          "00 B0 65 00 00 B0 64 00 00 B0 06 02 00 B0 26 00"              // range: 2 semitones
          "00 B0 65 7F 00 B0 64 7F 00 E0 00 40"                          // closed; centre
          "00 FF 05 03 E4 B8 89 00 90 4A 50 83 60 80 4A 40"              // 三
          "00 E0 4D 39 00 FF 05 08 E5 9B 9B E2 86 93 32 30"              // 四↓20
          "00 90 4B 50 87 40 80 4B 40"                                   //
          "00 E0 00 40 00 FF 05 03 E4 BA 94 00 90 4D 50 81 70 80 4D 40"  // 五
          "00 FF 05 03 E4 BA 94 00 90 4D 50 81 70 80 4D 40"              // 五
          "00 FF 2F 00");
  const auto file =
      write_midi(score_of("title: T\nflute: 6\ntempo: 100\n\n三 四↓20 - (五 五) |=\n"), {});
  ASSERT_TRUE(file.value);
  EXPECT_EQ(*file.value, midi_file(1, 480, {tempo_track, flute_track}));
}

TEST(MidiWriter, NamesTheFlute) {
  EXPECT_THAT(written("flute: 7.5\n\n三 |=\n").events(1, {"name"}),
              ElementsAre("0 name Shinobue 7.5"));
}

TEST(MidiWriter, PlaysHoldsTiesAndRests) {
  EXPECT_THAT(
      written("三 - (五 (- 六)) 七 | - ・ ・ 2 |=").notes(),
      ElementsAre("0-960 74", "960-1320 77", "1320-1440 79", "1440-2400 81", "3360-3840 84"));
}

TEST(MidiWriter, EndsANoteBeforeItStrikesTheNext) {
  EXPECT_THAT(written("五 五 |=").events(1, {"on", "off"}),
              ElementsAre("0 on 0 77 80", "480 off 0 77 64", "480 on 0 77 80", "960 off 0 77 64"));
}

TEST(MidiWriter, SendsNoBendWhereNothingIsBent) {
  EXPECT_THAT(written("三 五 |=").events(1, {"bend", "control"}), IsEmpty());
}

TEST(MidiWriter, BendsEachNoteAndBringsTheWheelBack) {
  EXPECT_THAT(written("三↑15 四↑15 五 六↓30 |=").events(1, {"bend"}),
              ElementsAre("0 bend 0 8192", "0 bend 0 8806", "960 bend 0 8192", "1440 bend 0 6963",
                          "1920 bend 0 8192"));
}

// A whole tone down is another key, 120 cents down another key and 20 cents.
TEST(MidiWriter, BendsFromTheNearestKey) {
  const WrittenMidi wide = written("三↓200 三↓120 |=");
  EXPECT_THAT(wide.notes(), ElementsAre("0-480 72", "480-960 73"));
  EXPECT_THAT(wide.events(1, {"bend"}),
              ElementsAre("0 bend 0 8192", "480 bend 0 7373", "960 bend 0 8192"));
}

// 15 cents of 200 are 614 of 8192. A tuning of 442 is 1200 log2(442/440) = 7.85 cents: 322.
TEST(MidiWriter, PlaysTheTruePitchOfAFlute) {
  EXPECT_THAT(written("flute: 6+15c\n\n三 四 |=\n").events(1, {"bend"}),
              ElementsAre("0 bend 0 8192", "0 bend 0 8806", "960 bend 0 8192"));
  EXPECT_THAT(written("flute: 6\ntuning: 442\n\n三 四 |=\n").events(1, {"bend"}),
              ElementsAre("0 bend 0 8192", "0 bend 0 8514", "960 bend 0 8192"));
  // Half a semitone over size 7, whose 一 is B4, key 71.
  const WrittenMidi half = written("flute: 7.5\n\n一 |=\n");
  EXPECT_THAT(half.notes(), ElementsAre("0-480 71"));
  EXPECT_THAT(half.events(1, {"bend"}),
              ElementsAre("0 bend 0 8192", "0 bend 0 10240", "480 bend 0 8192"));
}

TEST(MidiWriter, ChangesTheFluteInTheMiddle) {
  const WrittenMidi two = written("三 四 五 六 | {flute 8} 三 四 五 六 |=");
  EXPECT_THAT(two.notes(),
              ElementsAre("0-480 74", "480-960 75", "960-1440 77", "1440-1920 79", "1920-2400 76",
                          "2400-2880 77", "2880-3360 79", "3360-3840 81"));
  EXPECT_THAT(two.events(0, {"text"}),
              ElementsAre("0 text yubifu.flute: 6", "0 text yubifu.ticks: 480",
                          "0 text yubifu.lyrics: fingering", "1920 text yubifu.flute: 8"));
}

TEST(MidiWriter, PlaysGapsAtTheirPitch) {
  EXPECT_THAT(written("?F#4 ?C8 |=").notes(), ElementsAre("0-480 66", "480-960 108"));
}

TEST(MidiWriter, LeavesKeysOver127Silent) {
  model::Score score = score_of("三 四 五 |=");
  score.notes[0].tone.pitch = model::Pitch{127, 0};
  score.notes[1].tone.pitch = model::Pitch{128, 0};
  const WrittenMidi high = written(score);
  EXPECT_THAT(high.notes(), ElementsAre("0-480 127", "960-1440 77"));
  EXPECT_THAT(high.said, ElementsAre("warning key-range in bar 0"));
}

// Each takes an eighth of a quarter, 60 ticks, from its main note.
TEST(MidiWriter, TakesGraceNotesFromTheirNote) {
  const WrittenMidi graced = written("五{pre 六 七}{post 三} 四 |=");
  EXPECT_THAT(graced.notes(),
              ElementsAre("0-60 79", "60-120 81", "120-420 77", "420-480 74", "480-960 75"));
  EXPECT_THAT(graced.events(1, {"lyric"}), ElementsAre("0 lyric 六", "60 lyric 七", "120 lyric 五",
                                                       "420 lyric 三", "480 lyric 四"));
}

// Four of 60 ticks would be the whole note of 240: together they take half.
TEST(MidiWriter, LeavesTheNoteHalfOfItsTime) {
  EXPECT_THAT(
      written("(五{pre 六 七 六 七} 四) |=").notes(),
      ElementsAre("0-30 79", "30-60 81", "60-90 79", "90-120 81", "120-240 77", "240-480 75"));
}

TEST(MidiWriter, PlaysDynamicsAndAccents) {
  const WrittenMidi loud =
      written("三 {dyn f} 三 三{accent} {dyn pp} 三 | {dyn mf} 三 三 三 三 |=");
  EXPECT_THAT(
      loud.events(1, {"on"}),
      ElementsAre("0 on 0 74 80", "480 on 0 74 92", "960 on 0 74 108", "1440 on 0 74 44",
                  "1920 on 0 74 80", "2400 on 0 74 80", "2880 on 0 74 80", "3360 on 0 74 80"));
}

TEST(MidiWriter, ForcesOneNote) {
  const WrittenMidi forced = written("三 {dyn sfz} 三 三 {dyn fp} 三 | 三 三 三 三 |=");
  EXPECT_THAT(
      forced.events(1, {"on"}),
      ElementsAre("0 on 0 74 80", "480 on 0 74 96", "960 on 0 74 80", "1440 on 0 74 96",
                  "1920 on 0 74 56", "2400 on 0 74 56", "2880 on 0 74 56", "3360 on 0 74 56"));
}

// Each of them takes a tick at least, and together more than the bar has.
TEST(MidiWriter, NotesTooShortForTheGridAreAllThere) {
  MidiWriteOptions options;
  options.ppq = 24;
  std::string words = "三 四 五 (";
  for (int i = 0; i < 32; ++i) words += i % 2 == 0 ? "六 " : "七 ";
  const WrittenMidi fast = written(words + ") |=", options);
  EXPECT_EQ(fast.notes().size(), 35u);
  ASSERT_EQ(fast.tracks.size(), 2u);
}

TEST(MidiWriter, KeepsVelocitiesInRange) {
  MidiWriteOptions options;
  options.velocity = 120;
  EXPECT_THAT(written("{dyn ffff} 三 {dyn pppppp} 三 |=", options).events(1, {"on"}),
              ElementsAre("0 on 0 74 127", "480 on 0 74 36"));
  options.velocity = 1;
  EXPECT_THAT(written("{dyn pppp} 三 |=", options).events(1, {"on"}), ElementsAre("0 on 0 74 1"));
}

TEST(MidiWriter, TakesProgramAndTicksFromTheOptions) {
  MidiWriteOptions options;
  options.program = 78;
  options.ppq = 96;
  const WrittenMidi shakuhachi = written("三 (四 五) |=", options);
  EXPECT_EQ(shakuhachi.ppq, 96);
  EXPECT_EQ(shakuhachi.format, 1);
  EXPECT_THAT(shakuhachi.events(1, {"program"}), ElementsAre("0 program 0 77"));
  EXPECT_THAT(shakuhachi.notes(), ElementsAre("0-96 74", "96-144 75", "144-192 77"));
}

// 483 is the least multiple of 7 that is not under 480.
TEST(MidiWriter, FindsTicksThatHoldEveryTime) {
  const WrittenMidi sevenths = written("(1 2 3 4 5 6 7) |=");
  EXPECT_EQ(sevenths.ppq, 483);
  EXPECT_THAT(sevenths.notes(), ElementsAre("0-69 82", "69-138 84", "138-207 86", "207-276 87",
                                            "276-345 89", "345-414 91", "414-483 93"));
  EXPECT_EQ(written("(1 2 3) (1 2 3 4 5) |=").ppq, 480);
}

TEST(MidiWriter, GoesToTheNearestTickAndSaysSo) {
  MidiWriteOptions options;
  options.ppq = 100;
  const WrittenMidi rounded = written("(1 2 3) |=", options);
  EXPECT_THAT(rounded.notes(), ElementsAre("0-33 82", "33-67 84", "67-100 86"));
  EXPECT_THAT(rounded.said, ElementsAre("warning tick-rounding in bar 0"));
  EXPECT_THAT(rounded.events(0, {"text"}),
              ElementsAre("0 text yubifu.flute: 6", "0 text yubifu.lyrics: fingering"));
}

TEST(MidiWriter, PlaysRepeatsAndEndingsOut) {
  const WrittenMidi form =
      written("|: 三 三 三 三 | {ending 1} 四 四 四 四 :| {ending 2} 五 五 五 五 |=");
  std::vector<std::string> keys;
  for (const std::string& note : form.notes()) keys.push_back(note.substr(note.find(' ') + 1));
  EXPECT_THAT(keys, ElementsAre("74", "74", "74", "74", "75", "75", "75", "75", "74", "74", "74",
                                "74", "77", "77", "77", "77"));
  EXPECT_THAT(form.events(0, {"end"}), ElementsAre("7680 end"));
}

TEST(MidiWriter, WritesAScoreOfRests) {
  const WrittenMidi silent = written("・ ・ ・ ・ |=");
  EXPECT_THAT(silent.notes(), IsEmpty());
  EXPECT_THAT(silent.events(1, {"end"}), ElementsAre("1920 end"));
}

// libsmf's own save refuses texts over 127 bytes.
TEST(MidiWriter, WritesLongTexts) {
  const std::string title(300, 'x');
  const WrittenMidi file = written("title: " + title + "\nflute: 6\n\n三 |=\n");
  EXPECT_THAT(file.events(0, {"name"}), ElementsAre("0 name " + title));
}

}  // namespace
}  // namespace yubifu::midi
