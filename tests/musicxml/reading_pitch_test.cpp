// Written and sounding pitch.
#include <clocale>
#include <string>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/staff_text.h"

namespace yubifu::musicxml {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

std::string transpose(std::string_view diatonic, std::string_view chromatic,
                      std::string_view octaves = {}) {
  std::string content;
  if (!diatonic.empty()) content += fmt::format("<diatonic>{}</diatonic>", diatonic);
  content += fmt::format("<chromatic>{}</chromatic>", chromatic);
  if (!octaves.empty()) content += fmt::format("<octave-change>{}</octave-change>", octaves);
  return "<attributes><transpose>" + content + "</transpose></attributes>\n";
}

std::string key(int fifths, std::string_view mode = {}) {
  std::string content = fmt::format("<fifths>{}</fifths>", fifths);
  if (!mode.empty()) content += fmt::format("<mode>{}</mode>", mode);
  return "<attributes><key>" + content + "</key></attributes>\n";
}

std::string clef(int octaves) {
  return fmt::format(
      "<attributes><clef><sign>G</sign><line>2</line><clef-octave-change>{}</clef-octave-change>"
      "</clef></attributes>\n",
      octaves);
}

std::string altered(std::string_view alter) {
  return fmt::format(
      "<note><pitch><step>A</step><alter>{}</alter><octave>4</octave></pitch>"
      "<duration>8</duration></note>",
      alter);
}

std::string melody_of(std::string_view content) {
  return melody(read(one_bar(content)).score);
}

TEST(Pitch, IsTheWrittenOneWithoutTransposition) {
  EXPECT_EQ(melody_of(note("C4", 2) + note("F#5", 2) + note("Bb5", 2) + note("Cb5", 2)),
            "0 C4 1, 1 F#5 1, 2 Bb5 1, 3 Cb5 1");
}

TEST(Pitch, TranspositionLeadsFromWrittenToSounding) {
  // The clarinet in B flat: a second lower.
  EXPECT_EQ(melody_of(transpose("-1", "-2") + note("D5", 4) + note("F#5", 4)), "0 C5 2, 2 E5 2");
  // In C on a flute of size 7: a seventh up (6 letters, 11 semitones).
  EXPECT_EQ(melody_of(transpose("6", "11") + note("C4", 4) + note("Eb4", 4)), "0 B4 2, 2 D5 2");
  // The horn in F: a fifth lower.
  EXPECT_EQ(melody_of(transpose("-4", "-7") + note("C5", 4) + note("B5", 4)), "0 F4 2, 2 E5 2");
}

TEST(Pitch, OctavesOfTheTranspositionAdd) {
  EXPECT_EQ(melody_of(transpose("0", "0", "1") + note("C4", 8)), "0 C5 4");
  EXPECT_EQ(melody_of(transpose("-1", "-2", "-1") + note("D5", 8)), "0 C4 4");
  EXPECT_EQ(melody_of(transpose("1", "1", "1") + note("C4", 8)), "0 Db5 4");
}

TEST(Pitch, WithoutDiatonicTheKeyDecidesTheSpelling) {
  // Up six semitones from C: F sharp and G flat have six signs each; from G (one sharp) it is
  // D flat (five flats), not C sharp.
  EXPECT_EQ(melody_of(key(1) + transpose("", "6") + note("G4", 8)), "0 Db5 4");
  EXPECT_EQ(melody_of(key(-1) + transpose("", "6") + note("F4", 8)), "0 B4 4");
  EXPECT_EQ(melody_of(transpose("", "2") + note("C5", 8)), "0 D5 4");
}

TEST(Pitch, TranspositionMayChangeInTheMiddle) {
  EXPECT_EQ(melody_of(transpose("-1", "-2") + note("D5", 4) + transpose("1", "2") + note("D5", 4)),
            "0 C5 2, 2 E5 2");
}

TEST(Pitch, ATranspositionThatCannotBeReadIsToldAndNotApplied) {
  for (const std::string& odd :
       {transpose("", "much"), transpose("", "99"), transpose("x", "2"), transpose("", "2", "9"),
        transpose("", ""), transpose("-2147483648", "2"), transpose("", "2", "-2147483648")}) {
    const Reading reading = read(one_bar(odd + note("D5", 8)));
    EXPECT_EQ(melody(reading.score), "0 D5 4");
    EXPECT_THAT(reading.remarks, ElementsAre("warning unknown-value: 1 transposition cannot be "
                                             "read: bar 1"));
  }
}

TEST(Pitch, AClefNeverMovesIt) {
  for (const int octaves : {-2, -1, 0, 1, 2}) {
    const Reading reading = read(one_bar(clef(octaves) + note("D5", 8)));
    EXPECT_EQ(melody(reading.score), "0 D5 4");
    EXPECT_THAT(reading.remarks, IsEmpty());
  }
}

TEST(Pitch, AnOctaveClefBesideAnOctaveInTheTranspositionIsToldInEitherOrder) {
  const std::string octave = transpose("0", "0", "1");
  const std::string both =
      "<attributes><clef><sign>G</sign><line>2</line><clef-octave-change>1</clef-octave-change>"
      "</clef><transpose><chromatic>0</chromatic><octave-change>1</octave-change></transpose>"
      "</attributes>";
  for (const std::string& order : {clef(1) + octave, octave + clef(1), both}) {
    const Reading reading = read(one_bar(order + note("D5", 8)));
    EXPECT_EQ(melody(reading.score), "0 D6 4");
    EXPECT_THAT(reading.remarks,
                ElementsAre("warning octave-twice: 1 transposition by octaves stands beside an "
                            "octave clef; both are read as they stand: bar 1"));
  }
}

TEST(Pitch, APlainClefEndsTheDoubt) {
  const Reading reading =
      read(one_bar(clef(1) + clef(0) + transpose("0", "0", "1") + note("D5", 8)));
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Pitch, LinesOfAnOctaveDoNotMoveIt) {
  // <pitch> holds the octave already, whether or not the line is closed.
  const auto shift = [](std::string_view type) {
    return fmt::format(
        "<direction><direction-type><octave-shift type=\"{}\" size=\"8\"/>"
        "</direction-type></direction>",
        type);
  };
  const Reading reading = read(one_bar(shift("down") + note("D6", 4) + shift("stop") +
                                       shift("stop") + note("D5", 4) + shift("up")));
  EXPECT_EQ(melody(reading.score), "0 D6 2, 2 D5 2");
  EXPECT_THAT(reading.remarks, IsEmpty());
}

TEST(Pitch, FractionsOfASemitoneAreCents) {
  EXPECT_EQ(melody_of(altered("-0.5")), "0 Ab4+50 4");
  EXPECT_EQ(melody_of(altered("0.25")), "0 A4+25 4");
  EXPECT_EQ(melody_of(altered("1.5")), "0 A#4+50 4");
  EXPECT_EQ(melody_of(altered("-1.2")), "0 Ab4-20 4");
  EXPECT_EQ(melody_of(altered("+1")), "0 A#4 4");
}

TEST(Pitch, FractionsDoNotDependOnTheLocale) {
  // Where decimals are written with a comma, a parser that asks the locale reads 0.25 as 0.
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C"}) {
    if (std::setlocale(LC_ALL, name) == nullptr) continue;
    EXPECT_EQ(melody_of(altered("0.25")), "0 A4+25 4") << name;
  }
  std::setlocale(LC_ALL, "C");
}

TEST(Pitch, AFractionInTheTranspositionIsCentsToo) {
  EXPECT_EQ(melody_of(transpose("", "1.5") + note("C5", 8)), "0 Db5+50 4");
}

TEST(Pitch, MoreThanTwoSignsAreSpelledAnew) {
  // A triple sharp on A is C.
  EXPECT_EQ(melody_of(altered("3")), "0 C5 4");
}

TEST(Pitch, ThatCannotBeReadIsToldAndLeavesATimeOfRest) {
  for (const char* pitch :
       {"<step>H</step><octave>4</octave>", "<step>D</step>", "<octave>4</octave>",
        "<step>D</step><octave>x</octave>", "<step>D</step><octave>99</octave>",
        "<step>D</step><alter>sharp</alter><octave>4</octave>",
        "<step>D</step><alter>nan</alter><octave>4</octave>", "<step></step><octave>4</octave>",
        ""}) {
    const Reading reading = read(one_bar(fmt::format("<note><pitch>{}</pitch><duration>4</duration>"
                                                     "</note>",
                                                     pitch) +
                                         note("E5", 4)));
    EXPECT_EQ(melody(reading.score), "2 E5 2") << pitch;
    EXPECT_THAT(reading.remarks, ElementsAre("warning unknown-value: 1 note without a readable "
                                             "pitch left out: bar 1"))
        << pitch;
  }
}

// --- Keys

TEST(Keys, AreThoseThatSound) {
  EXPECT_EQ(read(one_bar(key(2) + note("D5", 8))).score.header.key, (model::Key{2}));
  EXPECT_EQ(read(one_bar(key(-3, "minor") + note("C5", 8))).score.header.key,
            (model::Key{-3, model::Mode::minor}));
  // Written D major on a B flat clarinet sounds C major, whichever stands first.
  for (const std::string& order :
       {key(2) + transpose("-1", "-2"), transpose("-1", "-2") + key(2)}) {
    EXPECT_EQ(read(one_bar(order + note("D5", 8))).score.header.key, (model::Key{0}));
  }
}

TEST(Keys, MayChange) {
  const Reading reading = read(one_bar(key(1) + note("D5", 4) + key(-1) + note("E5", 4)));
  EXPECT_EQ(reading.score.header.key, (model::Key{1}));
  EXPECT_EQ(directions(reading.score), "1:2 key F");
}

TEST(Keys, OfMoreThanSevenSignsAreThoseThatSoundLikeThem) {
  const Reading reading = read(one_bar(key(8) + note("G#5", 8)));
  EXPECT_EQ(reading.score.header.key, (model::Key{-4}));
  EXPECT_THAT(reading.remarks, ElementsAre("warning left-out: 1 key of more than seven signs read "
                                           "as the one that sounds like it: bar 1"));
}

TEST(Keys, OfAnotherKindAreTold) {
  const Reading steps =
      read(one_bar("<attributes><key><key-step>F</key-step><key-alter>1"
                   "</key-alter></key></attributes>" +
                   note("D5", 8)));
  EXPECT_EQ(steps.score.header.key, std::nullopt);
  EXPECT_THAT(steps.remarks, ElementsAre("warning left-out: 1 key signature of its own kind left "
                                         "out: bar 1"));
  const Reading dorian = read(one_bar(key(0, "dorian") + note("D5", 8)));
  EXPECT_EQ(dorian.score.header.key, (model::Key{0}));
  EXPECT_THAT(dorian.remarks, ElementsAre("warning left-out: 1 mode of a key other than major and "
                                          "minor left out (dorian): bar 1"));
}

}  // namespace
}  // namespace yubifu::musicxml
