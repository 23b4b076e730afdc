// Small questions about notes, and tones as text.
#include "model/note.h"

#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace yubifu::model {
namespace {

TEST(Mark, OfARestIsHeardAtTheEndOfItsTime) {
  for (const Mark mark : {Mark::fermata, Mark::breath, Mark::optional_breath}) {
    EXPECT_TRUE(is_rest_mark(mark));
  }
  for (const Mark mark : {Mark::uchi, Mark::age, Mark::suri, Mark::yuri, Mark::trill, Mark::accent,
                          Mark::staccato, Mark::tenuto}) {
    EXPECT_FALSE(is_rest_mark(mark));
  }
}

TEST(Syllable, KindsSayWhereTheWordBeginsAndEnds) {
  struct Row {
    SyllableKind kind;
    bool continues;
    bool goes_on;
  };
  for (const auto& [kind, continues, goes_on] :
       std::vector<Row>{{SyllableKind::single, false, false},
                        {SyllableKind::begin, false, true},
                        {SyllableKind::middle, true, true},
                        {SyllableKind::end, true, false}}) {
    EXPECT_EQ(continues_word(kind), continues);
    EXPECT_EQ(word_goes_on(kind), goes_on);
    EXPECT_EQ(syllable_kind(continues, goes_on), kind);
  }
}

Tone gap(const char* spelling, int bend = 0) {
  Tone tone;
  tone.fingering = Fingering{std::nullopt, HalfHole::none, bend};
  tone.spelling = parse_spelling(spelling);
  return tone;
}

TEST(Note, ItsTonesAreWalkedAsTheyArePlayed) {
  const auto key = [](int number) {
    Tone tone;
    tone.pitch = Pitch{number, 0};
    return tone;
  };
  Note note;
  note.tone = key(72);
  note.grace_before = {key(70), key(71)};
  note.grace_after = {key(74)};
  std::vector<int> keys;
  for_each_tone(note, [&](Tone& tone) { keys.push_back(tone.pitch->key++); });
  EXPECT_EQ(keys, (std::vector{70, 71, 72, 74}));
  EXPECT_EQ(note.grace_after[0].pitch->key, 75);
  EXPECT_EQ(note.grace_count(), 3u);
  const auto is_high = [](const Tone& tone) { return tone.pitch->key >= 75; };
  EXPECT_TRUE(any_tone(note, is_high));
  EXPECT_FALSE(all_tones(note, is_high));
}

TEST(ToneText, IsTheFingeringOrThePitchOfAGap) {
  Tone fingered;
  fingered.fingering = Fingering{Sign::standard(Register::low, 3), HalfHole::under, -20};
  fingered.spelling = Spelling{Step::d, 0, 5};
  EXPECT_EQ(printed(fingered), "三メ↓20");
  EXPECT_EQ(printed(fingered, Alphabet::ascii), "r3mv20");
  EXPECT_EQ(printed(gap("F#4", -20)), "?F#4↓20");
  EXPECT_EQ(printed(gap("F#4", 15), Alphabet::ascii), "?F#4^15");
  EXPECT_EQ(printed(gap("Bb-2")), "?Bb-2");
  EXPECT_EQ(printed(Tone{Fingering{}, {}, {}, {}}), "?");
  EXPECT_EQ(printed(Tone{{}, Pitch{60, 0}, {}, {}}), "");
}

TEST(ToneText, ReadsAGapExactlyAsItIsPrinted) {
  for (const Tone& tone : {gap("F#4"), gap("Bb-2", -200), gap("C25", 1)}) {
    EXPECT_EQ(parse_gap(printed(tone)), tone) << printed(tone);
  }
  for (const char* text : {"", "?", "F#4", "?三", "?c5", "?C5v20", "?C5↓", "?C5↓0", "?C5↓201",
                           "?C5↓20↑10", "?C5メ", "?C5 ", "? C5", "?↓20"}) {
    EXPECT_EQ(parse_gap(text), std::nullopt) << text;
  }
}

}  // namespace
}  // namespace yubifu::model
