// What a name, a text or a height says of a line. That the melody of a choir lies in its highest
// voice and an instrument of chords goes with it is common practice; what counts as a name for
// either is our choice, from the names that printed music and sequencer files use.
#include "model/melody_evidence.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

using testing::ElementsAre;

// Twenty notes at one key, one at a time, in twenty bars.
LineEvidence line(std::string name, int key = 60) {
  LineEvidence line;
  line.names = {std::move(name)};
  line.bars = 20;
  line.attacks = 20;
  for (int i = 0; i < 20; ++i) line.add_note(key);
  return line;
}

LineEvidence sung(LineEvidence line) {
  line.syllables = line.attacks;
  return line;
}

// From top to bottom.
std::size_t melody_of(std::vector<LineEvidence> lines) {
  for (std::size_t i = 0; i < lines.size(); ++i) lines[i].place = i;
  return find_melody(lines).line;
}

// True when the name wins over another, wherever either stands and though it lies lower.
bool wins(const std::string& name, const std::string& other) {
  return melody_of({line(other, 72), line(name, 60)}) == 1 &&
         melody_of({line(name, 60), line(other, 72)}) == 0;
}

TEST(Names, SpeakForTheMelody) {
  for (const char* name : {"Melody",     "MELODIE",   "Mélodie",     "melodia", "Hauptmelodie",
                           "Lead",       "Solo",      "Violin Solo", "Voice",   "Vocals",
                           "Lead Vocal", "Voix",      "Canto",       "Chant",   "Gesang",
                           "Singstimme", "1. Stimme", "Soprano",     "SOPRANO", "Sopran",
                           "Sopran I",   "S.",        "S",           "S1",      "Sop.",
                           "Cantus",     "Discantus", "Superius",    "Tiple",   "Treble",
                           "Сопрано",    "Мелодия",   "主旋律",      "旋律",    "メロディー",
                           "ﾒﾛﾃﾞｨ",      "ボーカル",  "ソプラノ",    "歌",      "唄",
                           "うた",       "独唱",      "笛",          "篠笛",    "笛１",
                           "Shinobue",   "Fue",       "女高音",      "노래"}) {
    EXPECT_TRUE(wins(name, "Harmonica")) << name;
    EXPECT_TRUE(wins(name, "")) << name;
  }
}

TEST(Names, SpeakAgainstIt) {
  for (const char* name : {"Bass",
                           "Bass Guitar",
                           "Basso",
                           "Basse",
                           "Bassus",
                           "Kontrabass",
                           "Double-Bass",
                           "Solo Bass",
                           "Bass Voice",
                           "B.",
                           "Tenor",
                           "Ténor",
                           "Tenore",
                           "Tenor Solo",
                           "Tenorsaxophon",
                           "T.",
                           "Alto",
                           "Alt",
                           "Altus",
                           "Contralto",
                           "Altstimme",
                           "Saxophone alto",
                           "A.",
                           "A2",
                           "Baritone",
                           "Viola",
                           "Violoncello",
                           "Accompaniment",
                           "Begleitung",
                           "acomp.",
                           "Left Hand",
                           "L.H.",
                           "Piano LH",
                           "main gauche",
                           "Chords",
                           "Pad",
                           "Backing Vocals",
                           "Vocal Harmony",
                           "Countermelody",
                           "Counter-melody",
                           "Drums",
                           "Taiko",
                           "Piano",
                           "Klavier",
                           "Guitar",
                           "Organ",
                           "Right Hand",
                           "Strings",
                           "伴奏",
                           "ベース",
                           "バス",
                           "アルト",
                           "テノール",
                           "対旋律",
                           "左手",
                           "ピアノ",
                           "ドラム",
                           "太鼓",
                           "三味線",
                           "低音",
                           "男高音",
                           "Бас",
                           "Альт"}) {
    EXPECT_TRUE(wins("", name)) << name;
    EXPECT_TRUE(wins("Ocarina", name)) << name;
  }
}

// Short words inside others are other words.
TEST(Names, OfOtherThingsSayNothing) {
  for (const char* name :
       {"Basset Clarinet", "Embassy", "Walther", "Default", "Alternate", "Salt", "Melodica",
        "メロディカ", "Harmonica", "Isolde", "Invoice", "Leader", "Single", "Mezzo-soprano",
        "C major", "Part A", "Track 2", "Sonata No. 2"}) {
    EXPECT_TRUE(wins("Soprano", name)) << name;
    EXPECT_TRUE(wins(name, "Bass")) << name;
    // Equal to a nameless line: the higher one is the melody.
    EXPECT_EQ(melody_of({line("", 60), line(name, 72)}), 1U) << name;
    EXPECT_EQ(melody_of({line("", 72), line(name, 60)}), 0U) << name;
  }
}

// A song for one low voice: the piano goes with it.
TEST(Names, OfLowVoicesCountMoreThanThoseOfInstrumentsOfChords) {
  for (const char* name : {"Alto", "Tenor", "Baritone", "Alto Sax", "Cello"}) {
    EXPECT_TRUE(wins(name, "Piano")) << name;
  }
  EXPECT_TRUE(wins("Piano", "Bass"));
  EXPECT_EQ(melody_of({line("Piano", 72), sung(line("Bass", 48))}), 1U);
  EXPECT_EQ(melody_of({line("Flute", 84), sung(line("Tenor", 60)), line("Piano", 64)}), 1U);
  EXPECT_EQ(melody_of({sung(line("Piano", 40)), sung(line("Bass", 48))}), 1U);
  // In a choir they are only the lower voices.
  EXPECT_EQ(melody_of({sung(line("Alto", 64)), sung(line("Soprano", 72)), sung(line("Bass", 48))}),
            1U);
}

TEST(Names, SayWhoPlaysTheMelody) {
  EXPECT_TRUE(wins("Melody (Tenor Sax)", "Flute"));
  EXPECT_TRUE(wins("Soprano & Alto", "Tenor & Bass"));
  EXPECT_TRUE(wins("Soprano Sax", "Alto Sax"));
  EXPECT_TRUE(wins("S.A.", "T.B."));
  EXPECT_TRUE(wins("歌", "Flute"));
  EXPECT_TRUE(wins("笛", "Violin"));
  EXPECT_TRUE(wins("Flute", "Violin"));
}

TEST(Names, CountTheFirstOfAKind) {
  EXPECT_TRUE(wins("Violin I", "Violin II"));
  EXPECT_TRUE(wins("Violine 1", "Violine 2"));
  EXPECT_TRUE(wins("Flute 1", "Flute 2"));
  EXPECT_TRUE(wins("Soprano 1", "Soprano 2"));
  EXPECT_TRUE(wins("Soprano 2", "Alto 1"));
  EXPECT_TRUE(wins("1st Trumpet", "2nd Trumpet"));
}

TEST(Names, OfTheInstrumentCountWhereThePartHasNone) {
  LineEvidence named = line("", 60);
  named.names = {"Part", "", "voice.soprano"};
  EXPECT_EQ(melody_of({line("", 72), named}), 1U);
  named.names = {"Bass", "S."};
  EXPECT_EQ(melody_of({line("", 72), named}), 0U);
}

TEST(Evidence, IsAskedInItsOrder) {
  LineEvidence drums = line("Melody", 80);
  drums.is_percussion = true;
  EXPECT_EQ(melody_of({drums, line("Bass", 40)}), 1U);
  EXPECT_EQ(melody_of({sung(line("", 60)), line("Solo", 60)}), 1U);  // a name before a text
  EXPECT_EQ(melody_of({line("", 80), sung(line("", 60))}), 1U);      // a text before height
  LineEvidence lower_staff = line("", 80);
  lower_staff.staff = 1;
  EXPECT_EQ(melody_of({lower_staff, line("", 60)}), 1U);
  // One note more than a whole tone is higher; within it one note at a time counts, then the place.
  LineEvidence chords = line("", 63);
  chords.chords = 3;
  EXPECT_EQ(melody_of({line("", 60), chords}), 1U);
  chords = line("", 62);
  chords.chords = 3;
  EXPECT_EQ(melody_of({chords, line("", 60)}), 1U);
  chords.chords = 2;
  EXPECT_EQ(melody_of({chords, line("", 60)}), 0U);
  LineEvidence busy = line("", 60);
  busy.attacks = 40;
  EXPECT_EQ(find_melody({line("", 60), busy}).line, 1U);  // they share a place
}

// A high note or two in a voice of their own are no melody.
TEST(Evidence, IsNotAskedOfALineThatHardlyPlays) {
  LineEvidence rare = line("Soprano", 90);
  rare.bars = 1;
  EXPECT_EQ(melody_of({rare, line("Bass", 40)}), 1U);
  rare.bars = 2;
  EXPECT_EQ(melody_of({rare, line("Bass", 40)}), 0U);
  LineEvidence sometimes = line("", 90);
  sometimes.bars = 9;
  EXPECT_EQ(melody_of({sometimes, line("", 60)}), 1U);
  sometimes.bars = 10;
  EXPECT_EQ(melody_of({sometimes, line("", 60)}), 0U);
}

// Eight attacks in ten of one line have a syllable; a label on one note of another is no text.
TEST(Evidence, OfATextIsTheShareOfNotesThatAreSung) {
  LineEvidence label = line("", 72);
  label.syllables = 1;
  LineEvidence text = line("", 60);
  text.syllables = 16;
  EXPECT_EQ(melody_of({label, text}), 1U);
  text.syllables = 2;  // a label as well
  EXPECT_EQ(melody_of({label, text}), 0U);
  text.attacks = 16;  // one in eight is sung
  EXPECT_EQ(melody_of({label, text}), 1U);
  text.attacks = 20;
  label.syllables = 8;
  text.syllables = 16;
  EXPECT_EQ(melody_of({label, text}), 0U);  // both are sung
}

TEST(Verdict, SaysWhy) {
  using Reason = MelodyReason;
  EXPECT_THAT(find_melody({line("Soprano", 60), line("Alto", 72)}).reasons,
              ElementsAre(Reason::name));
  EXPECT_THAT(find_melody({line("", 60), line("Alto", 72)}).reasons,
              ElementsAre(Reason::names_of_others));
  EXPECT_THAT(find_melody({sung(line("Bass", 40)), line("", 72)}).reasons,
              ElementsAre(Reason::sung));
  EXPECT_THAT(find_melody({line("Soprano", 72), line("Soprano", 64), line("Alto", 60)}).reasons,
              ElementsAre(Reason::name, Reason::highest));
  EXPECT_THAT(find_melody({line("Soprano", 72), sung(line("Soprano", 60))}).reasons,
              ElementsAre(Reason::sung));
  EXPECT_THAT(find_melody({line("", 60)}).reasons, ElementsAre());
  EXPECT_EQ(
      melody_sentence("part P1", {0, {Reason::name, Reason::highest}}, {"part P2", "part P3"}),
      "the melody is read from part P1, because its name says so and it lies highest; left "
      "out: part P2, part P3");
}

TEST(Verdict, ListsEightAndHowManyMore) {
  EXPECT_EQ(listed(std::vector<std::string>(8, "x")), "x, x, x, x, x, x, x, x");
  EXPECT_EQ(listed(std::vector<std::string>(10, "x")), "x, x, x, x, x, x, x, x and 2 more");
}

}  // namespace
}  // namespace yubifu::model
