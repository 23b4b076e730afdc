#include "model/pitch.h"

#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

// C4 is middle C, MIDI key 60: MIDI 1.0 note numbers.
TEST(Pitch, SpellingsHaveKeys) {
  EXPECT_EQ(midi_key({Step::c, 0, 4}), 60);
  EXPECT_EQ(midi_key({Step::a, 0, 4}), 69);
  EXPECT_EQ(midi_key({Step::b, 0, 3}), 59);
  EXPECT_EQ(midi_key({Step::c, -1, 4}), 59);
  EXPECT_EQ(midi_key({Step::b, 1, 3}), 60);
  EXPECT_EQ(midi_key({Step::f, 2, 5}), 79);
  EXPECT_EQ(midi_key({Step::c, 0, -1}), 0);
  EXPECT_EQ(midi_key({Step::g, 0, 9}), 127);
  EXPECT_EQ(midi_key({Step::c, -1, -1}), -1);
}

TEST(Pitch, LettersAndSteps) {
  EXPECT_EQ(letter(Step::c), 'C');
  EXPECT_EQ(letter(Step::b), 'B');
  EXPECT_EQ(step_from_letter('G'), Step::g);
  for (const char other : {'H', 'c', '\0', '1'}) EXPECT_EQ(step_from_letter(other), std::nullopt);
}

TEST(Pitch, SpellingsAreWrittenAndRead) {
  struct Row {
    const char* text;
    Spelling spelling;
  };
  for (const auto& [text, spelling] : std::vector<Row>{{"C5", {Step::c, 0, 5}},
                                                       {"F#4", {Step::f, 1, 4}},
                                                       {"Bb3", {Step::b, -1, 3}},
                                                       {"G##10", {Step::g, 2, 10}},
                                                       {"Ebb-1", {Step::e, -2, -1}}}) {
    EXPECT_EQ(to_text(spelling), text);
    EXPECT_EQ(parse_spelling(text), spelling) << text;
  }
  EXPECT_EQ(parse_spelling("F♯4"), (Spelling{Step::f, 1, 4}));
  EXPECT_EQ(parse_spelling("B♭♭3"), (Spelling{Step::b, -2, 3}));
  for (const char* text : {"", "C", "H4", "c4", "C###4", "Bbbb4", "C26", "C-15", "C4 ", " C4",
                           "C+4", "C4.5", "#4", "C#", "４", "C４"}) {
    EXPECT_EQ(parse_spelling(text), std::nullopt) << text;
  }
}

TEST(Pitch, ClassesCountFromCInEveryOctave) {
  EXPECT_EQ(pitch_class(60), 0);
  EXPECT_EQ(pitch_class(71), 11);
  EXPECT_EQ(pitch_class(0), 0);
  EXPECT_EQ(pitch_class(-1), 11);
  EXPECT_EQ(pitch_class(-12), 0);
  EXPECT_EQ(pitch_class(-150), 6);
}

TEST(Pitch, IsTheNearestKeyAndADeviation) {
  EXPECT_EQ(pitch_at(6900), (Pitch{69, 0}));
  EXPECT_EQ(pitch_at(6880), (Pitch{69, -20}));
  EXPECT_EQ(pitch_at(6930), (Pitch{69, 30}));
  // Half way belongs to the lower key.
  EXPECT_EQ(pitch_at(6950), (Pitch{69, 50}));
  EXPECT_EQ(pitch_at(6951), (Pitch{70, -49}));
  EXPECT_EQ(pitch_at(-20), (Pitch{0, -20}));
  EXPECT_EQ(pitch_at(-150), (Pitch{-2, 50}));
  EXPECT_DOUBLE_EQ((Pitch{69, -20}).total_cents(), 6880);
}

// f = 440 * 2^((n-69)/12): MIDI Tuning Standard. C4 261.626 Hz and A5 880 Hz are in every table of
// equal temperament.
TEST(Pitch, HasAFrequency) {
  EXPECT_DOUBLE_EQ(frequency_hz({69, 0}, 440), 440);
  EXPECT_DOUBLE_EQ(frequency_hz({81, 0}, 440), 880);
  EXPECT_NEAR(frequency_hz({60, 0}, 440), 261.626, 0.001);
  EXPECT_NEAR(frequency_hz({69, 50}, 440), 452.893, 0.001);
  EXPECT_DOUBLE_EQ(frequency_hz({69, 0}, 442), 442);
}

struct KeyRow {
  int fifths;
  const char* major;
  const char* minor;
};
// The circle of fifths.
const std::vector<KeyRow> kCircle{
    {-7, "Cb", "Ab minor"}, {-6, "Gb", "Eb minor"}, {-5, "Db", "Bb minor"}, {-4, "Ab", "F minor"},
    {-3, "Eb", "C minor"},  {-2, "Bb", "G minor"},  {-1, "F", "D minor"},   {0, "C", "A minor"},
    {1, "G", "E minor"},    {2, "D", "B minor"},    {3, "A", "F# minor"},   {4, "E", "C# minor"},
    {5, "B", "G# minor"},   {6, "F#", "D# minor"},  {7, "C#", "A# minor"}};

TEST(Key, AllThirtyAreWrittenAndRead) {
  for (const auto& [fifths, major, minor] : kCircle) {
    EXPECT_EQ(to_text(Key{fifths, Mode::major}), major);
    EXPECT_EQ(to_text(Key{fifths, Mode::minor}), minor);
    EXPECT_EQ(parse_key(major), (Key{fifths, Mode::major}));
    EXPECT_EQ(parse_key(minor), (Key{fifths, Mode::minor}));
  }
}

TEST(Key, IsReadInOtherSpellings) {
  EXPECT_EQ(parse_key("C major"), (Key{0, Mode::major}));
  EXPECT_EQ(parse_key("B♭"), (Key{-2, Mode::major}));
  EXPECT_EQ(parse_key("F♯ Minor"), (Key{3, Mode::minor}));
  EXPECT_EQ(parse_key("Aminor"), (Key{0, Mode::minor}));
  for (const char* text : {"", "H", "c", "C dorian", "G#", "Fb", "E# minor", "Fb minor", "C ma",
                           "#", "minor", "C##"}) {
    EXPECT_EQ(parse_key(text), std::nullopt) << text;
  }
}

std::string spelled(int key, int fifths) {
  return to_text(spell_in_key(key, {fifths, Mode::major}));
}

TEST(Key, SpellsItsOwnNotesAndOthersItsWay) {
  // In C: flats.
  EXPECT_EQ(spelled(60, 0), "C4");
  EXPECT_EQ(spelled(61, 0), "Db4");
  EXPECT_EQ(spelled(66, 0), "Gb4");
  EXPECT_EQ(spelled(70, 0), "Bb4");
  // In D: sharps.
  EXPECT_EQ(spelled(66, 2), "F#4");
  EXPECT_EQ(spelled(63, 2), "D#4");
  EXPECT_EQ(spelled(70, 2), "A#4");
  // In Eb: flats.
  EXPECT_EQ(spelled(63, -3), "Eb4");
  EXPECT_EQ(spelled(66, -3), "Gb4");
  EXPECT_EQ(spelled(71, -3), "B4");
  // The octave belongs to the letter.
  EXPECT_EQ(spelled(60, 7), "B#3");
  EXPECT_EQ(spelled(59, -7), "Cb4");
  EXPECT_EQ(spelled(65, 6), "E#4");
}

TEST(Key, EverySpellingHasTheKeyItSpells) {
  for (int fifths = -7; fifths <= 7; ++fifths) {
    for (int key = 0; key <= 127; ++key) {
      EXPECT_EQ(midi_key(spell_in_key(key, {fifths, Mode::minor})), key) << fifths;
    }
  }
}

}  // namespace
}  // namespace yubifu::model
