// The tables shared by writer and reader: every entry goes both ways.
#include "musicxml/vocabulary.h"

#include <gtest/gtest.h>

#include "musicxml/vocabulary_own.h"

namespace yubifu::musicxml {
namespace {

using model::Cue;
using model::DirectionValue;
using model::Mark;
using model::Rational;

// Names from the MusicXML schema (note-type-value, accidental-value, bar-style).
TEST(Vocabulary, NoteTypesGoBothWays) {
  Rational length(32);
  for (const char* name : {"maxima", "long", "breve", "whole", "half", "quarter", "eighth", "16th",
                           "32nd", "64th", "128th", "256th", "512th", "1024th"}) {
    EXPECT_EQ(kNoteTypes.value_of(name), length) << name;
    EXPECT_EQ(kNoteTypes.word_of(length), name);
    length = length / 2;
  }
  EXPECT_EQ(kNoteTypes.word_of(3), "");
  EXPECT_EQ(kNoteTypes.value_of("2048th"), std::nullopt);
}

TEST(Vocabulary, AccidentalsGoBothWays) {
  EXPECT_EQ(kAccidentals.word_of(2), "double-sharp");
  EXPECT_EQ(kAccidentals.word_of(1), "sharp");
  EXPECT_EQ(kAccidentals.word_of(0), "natural");
  EXPECT_EQ(kAccidentals.word_of(-1), "flat");
  EXPECT_EQ(kAccidentals.word_of(-2), "flat-flat");
  for (int alter = -2; alter <= 2; ++alter) {
    EXPECT_EQ(kAccidentals.value_of(kAccidentals.word_of(alter)), alter);
  }
  EXPECT_EQ(kAccidentals.value_of("quarter-flat"), std::nullopt);
}

TEST(Vocabulary, BarStylesGoBothWays) {
  EXPECT_EQ(kBarStyles.word_of(model::BarStyle::section), "light-light");
  EXPECT_EQ(kBarStyles.value_of("light-heavy"), model::BarStyle::final);
  EXPECT_EQ(kBarStyles.value_of("regular"), model::BarStyle::regular);
  EXPECT_EQ(kBarStyles.value_of("dashed"), std::nullopt);
}

TEST(Vocabulary, HolesAreClosedHalfOrNot) {
  EXPECT_EQ(hole_closed_name(model::Hole::closed), "yes");
  EXPECT_EQ(hole_closed_name(model::Hole::steadying), "yes");
  EXPECT_EQ(hole_closed_name(model::Hole::half), "half");
  EXPECT_EQ(hole_closed_name(model::Hole::open), "no");
}

TEST(Vocabulary, FieldHomesGoBothWays) {
  for (const char* name : {"fields", "miscellaneous", "identification", "instead-of-miscellaneous",
                           "instead-of-identification"}) {
    const auto home = kFieldHomes.value_of(name);
    ASSERT_TRUE(home) << name;
    EXPECT_EQ(kFieldHomes.word_of(*home), name);
  }
  EXPECT_EQ(kFieldHomes.value_of("elsewhere"), std::nullopt);
}

TEST(Vocabulary, AnnotationsGoBothWays) {
  for (const char* name : {"lyric", "lyric-above", "technical", "words", "none"}) {
    const auto annotation = annotation_named(name);
    ASSERT_TRUE(annotation) << name;
    EXPECT_EQ(annotation_name(*annotation), name);
  }
  EXPECT_EQ(annotation_named("lyrics"), std::nullopt);
}

TEST(Vocabulary, MarksStandInTheOrderOfTheEnumeration) {
  for (std::size_t i = 0; i < mark_elements().size(); ++i) {
    const MarkElement& entry = mark_elements()[i];
    EXPECT_EQ(static_cast<std::size_t>(entry.mark), i);
    EXPECT_EQ(mark_of(entry.place, entry.element, entry.text), entry.mark);
  }
  EXPECT_EQ(mark_elements().back().mark, Mark::tenuto);
}

TEST(Vocabulary, MarksOfOtherProgramsAreKnown) {
  EXPECT_EQ(mark_of(MarkPlace::articulations, "breath-mark", ""), Mark::breath);
  EXPECT_EQ(mark_of(MarkPlace::articulations, "breath-mark", "salzedo"), Mark::breath);
  EXPECT_EQ(mark_of(MarkPlace::technical, "other-technical", "snap"), std::nullopt);
  EXPECT_EQ(mark_of(MarkPlace::ornaments, "accent", ""), std::nullopt);
}

TEST(Vocabulary, CuesStandInTheOrderOfTheEnumeration) {
  for (std::size_t i = 0; i < cue_elements().size(); ++i) {
    const CueElement& entry = cue_elements()[i];
    EXPECT_EQ(static_cast<std::size_t>(entry.cue), i);
    if (!entry.sound_attribute.empty()) {
      EXPECT_EQ(cue_of_sound(entry.sound_attribute), entry.cue);
    }
  }
  EXPECT_EQ(cue_elements().back().cue, Cue::caesura);
  EXPECT_EQ(cue_of_sound("tempo"), std::nullopt);
  EXPECT_EQ(cue_of_words(" D.C. al Fine "), Cue::da_capo);
  EXPECT_EQ(cue_of_words("Ritardando"), Cue::rit);
  EXPECT_EQ(cue_of_words("gently"), std::nullopt);
}

std::vector<std::pair<OwnMeaning, const char*>> own_texts() {
  const auto holes = model::parse_hole_pattern("○●◐◎●●○").value();
  return {
      {DirectionValue(model::TempoChange{{Rational(153, 2), Rational(3, 2)}}),
       "yubifu:tempo 3/2 153/2"},
      {DirectionValue(model::BeatChange{Rational(3, 2)}), "yubifu:beat 3/8"},
      {DirectionValue(model::KeyChange{{-1, model::Mode::minor}}), "yubifu:key D minor"},
      {DirectionValue(model::FluteChange{model::FluteSize{Rational(15, 2), -20}}),
       "yubifu:flute 7.5-20c"},
      {DirectionValue(model::FluteChange{model::FlutePath{"flutes/old one.json"}}),
       "yubifu:flute flutes/old one.json"},
      {DirectionValue(model::SectionStart{"A  b"}), "yubifu:section A  b"},
      {DirectionValue(model::TextDirection{"rit."}), "yubifu:text rit."},
      {DirectionValue(model::TextDirection{""}), "yubifu:text "},
      {DirectionValue(model::Dynamic{"mf"}), "yubifu:dyn mf"},
      {DirectionValue(Cue::until_cue), "yubifu:until-cue"},
      {DirectionValue(Cue::a_tempo), "yubifu:a-tempo"},
      {DirectionValue(Cue::caesura), "yubifu:caesura"},
      {HolesAsked{holes}, "yubifu:holes ○●◐◎●●○"},
      {IrregularBar{}, "yubifu:irregular"},
      {BarLine{model::BarStyle::section}, "yubifu:bar section"},
      {BarLine{model::BarStyle::final}, "yubifu:bar final"},
      {PrintOnly{}, "yubifu:print"},
  };
}

TEST(OwnTexts, GoBothWays) {
  for (const auto& [meaning, text] : own_texts()) {
    EXPECT_EQ(own_text(meaning), text);
    EXPECT_EQ(parse_own_text(text), meaning) << text;
  }
}

TEST(OwnTexts, OthersAreNone) {
  for (const char* text :
       {"", "rit", "yubifu:", "yubifu:unknown", "yubifu:tempo 1", "yubifu:tempo 0 76",
        "yubifu:tempo 1 -3", "yubifu:beat 0", "yubifu:key H", "yubifu:flute 77", "yubifu:bar thick",
        "yubifu:holes ", "yubifu:holes ab", "Yubifu:rit"}) {
    EXPECT_EQ(parse_own_text(text), std::nullopt) << text;
  }
}

}  // namespace
}  // namespace yubifu::musicxml
