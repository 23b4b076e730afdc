#include "check/comparison.h"

#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "check/reading.h"
#include "fingering/resolve.h"
#include "support/rounds.h"
#include "support/score_generator.h"

namespace yubifu::check {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::StartsWith;

model::Score score_of(const std::string& text) {
  return tests::resolved_text("flute: 6\n\n" + text).score;
}

std::vector<std::string> differences(const model::Score& a, const model::Score& b,
                                     const CompareOptions& options = {}) {
  std::vector<std::string> list;
  for (const base::Diagnostic& found : compare(a, b, options, base::SourceText("b", {}))) {
    list.push_back(fmt::format("{} | {}", found.message, found.hint));
  }
  return list;
}

std::vector<std::string> between(const std::string& a, const std::string& b,
                                 const CompareOptions& options = {}) {
  return differences(score_of(a), score_of(b), options);
}

TEST(Comparison, FindsNothingInTheSameMusic) {
  EXPECT_THAT(between("五 六 七 - | 1 (2 3) 1 - |=\n", "五 六 七 - |\n1 (2 3) 1 - |=\n"),
              IsEmpty());
}

// Size 6: 五 is F5, 六 G5, 七 A5, as 一 is B♭4.
TEST(Comparison, OneOtherNoteIsOneDifference) {
  EXPECT_THAT(between("五 六 七 - |=\n", "五 五 七 - |=\n"),
              ElementsAre("bar 1, beat 2: 六 (G5) here, 五 (F5) there | there: b, bar 1, beat 2"));
}

TEST(Comparison, OneMissingNoteIsOneDifference) {
  EXPECT_THAT(between("五 六 七 六 | 五 四 三 二 | 一 二 三 四 |=\n",
                      "五 六 七 六 | 五 ・ 三 二 | 一 二 三 四 |=\n"),
              ElementsAre("bar 2, beat 2: 四 (Eb5) only here | there: b"));
}

// In free time nothing but the notes themselves says where they belong.
TEST(Comparison, AMissingNoteExplainsTheShiftOfAllThatFollows) {
  const std::string head = "meter: free\n";
  const auto text = [&](const std::string& music) {
    return tests::resolved_text("flute: 6\nmeter: free\n\n" + music).score;
  };
  CompareOptions options;
  options.aspects.erase(Aspect::form);
  EXPECT_THAT(differences(text("五 六 七 六 五 四 三 二 一 |=\n"),
                          text("五 六 六 五 四 三 二 一 |=\n"), options),
              ElementsAre("bar 1, beat 3: 七 (A5) only here | there: b"));
  EXPECT_THAT(
      differences(text("五 六 七 六 五 |=\n"), text("五 六 七 - 六 五 |=\n"), options),
      ElementsAre("bar 1, beat 3: length: 1 here, 2 there, in quarters | there: b, bar 1, beat 3"));
}

TEST(Comparison, AShiftIsToldOnce) {
  EXPECT_THAT(
      between("五 六 ・ ・ | 五 六 七 六 |=\n", "・ 五 六 ・ | 五 六 七 六 |=\n"),
      ElementsAre("bar 1, beat 1: begins 1 quarters later there | there: b, bar 1, beat 2",
                  "bar 2, beat 1: begins at its time again there | there: b, bar 2, beat 1"));
}

TEST(Comparison, ComparesFingersThatSoundAlike) {
  EXPECT_THAT(
      between("二メ - 一 - |=\n", "一カ - 一 - |=\n"),
      ElementsAre("bar 1, beat 1: fingering: 二メ here, 一カ there | there: b, bar 1, beat 1"));
}

model::Score on_flute(const std::string& flute, const std::string& text) {
  return tests::resolved_text("flute: " + flute + "\n" + text).score;
}

// Sizes are a semitone apart: size 8 sounds two higher than size 6.
TEST(Comparison, TheSameFingersOnAnotherFluteAreOneDifference) {
  const std::string text = "\n五 六{pre 七} 七メ↓20 - | {flute 7} 1 (2 3) 1 - |=\n";
  const std::string moved = "\n五 六{pre 七} 七メ↓20 - | {flute 9} 1 (2 3) 1 - |=\n";
  EXPECT_THAT(differences(on_flute("6", text), on_flute("8", moved)),
              ElementsAre("same fingers, another flute: all sounds 2 semitones higher | there: b"));
  EXPECT_THAT(differences(on_flute("8", moved), on_flute("6", text)),
              ElementsAre("same fingers, another flute: all sounds 2 semitones lower | there: b"));
  EXPECT_THAT(differences(on_flute("6", "\n五 六 |=\n"), on_flute("7", "\n五 六 |=\n")),
              ElementsAre("same fingers, another flute: all sounds 1 semitone higher | there: b"));
  EXPECT_THAT(differences(on_flute("6", "\n五 六 |=\n"), on_flute("6+15c", "\n五 六 |=\n")),
              ElementsAre("same fingers, another flute: all sounds 15.0 cents higher | there: b"));
}

TEST(Comparison, WhatElseDiffersOnAnotherFluteIsTold) {
  // The key and the gap have moved with the flute (B flat is the key of size 6, C that of size 8).
  EXPECT_THAT(
      differences(on_flute("6", "title: Rain\nkey: Bb\n\n五 六 ?F#3 - |=\n"),
                  on_flute("8", "title: Snow\nkey: C\n\n五 六{accent} ?G#3 - |=\n")),
      ElementsAre("same fingers, another flute: all sounds 2 semitones higher | there: b",
                  "header: title: \"Rain\" here, \"Snow\" there | there: b, header",
                  "bar 1, beat 2: marks: none here, accent there | there: b, bar 1, beat 2"));
  // One other sign, and it is another tune.
  EXPECT_THAT(differences(on_flute("6", "\n五 六 七 - |=\n"), on_flute("8", "\n五 六 五 - |=\n")),
              testing::Not(testing::Contains(testing::HasSubstr("same fingers"))));
  // One note that sounds by another interval, as one does that somebody has moved on its staff.
  model::Score moved = on_flute("8", "\n五 六 七 - |=\n");
  moved.notes[1].tone.pitch->key += 1;
  EXPECT_THAT(differences(on_flute("6", "\n五 六 七 - |=\n"), moved),
              testing::Not(testing::Contains(testing::HasSubstr("same fingers"))));
  // Asked for the pitch alone, nobody speaks of fingers.
  CompareOptions pitch;
  pitch.aspects = {Aspect::pitch};
  EXPECT_THAT(
      differences(on_flute("6", "\n五 - - - |=\n"), on_flute("8", "\n五 - - - |=\n"), pitch),
      ElementsAre("bar 1, beat 1: 五 (F5) here, 五 (G5) there | there: b, bar 1, beat 1"));
}

TEST(Comparison, HoldsPitchesToItsLimit) {
  CompareOptions options;
  options.aspects.erase(Aspect::fingering);
  EXPECT_THAT(
      between("三 - - - |=\n", "三↓20 - - - |=\n", options),
      ElementsAre("bar 1, beat 1: 三 (D5) here, 三↓20 (D5-20c) there | there: b, bar 1, beat 1"));
  options.cents = 20;
  EXPECT_THAT(between("三 - - - |=\n", "三↓20 - - - |=\n", options), IsEmpty());
}

TEST(Comparison, ComparesMarksAndSongText) {
  EXPECT_THAT(
      between("五{accent} 六~ 七 - |=\n> ka ze ga\n", "五 六 七 - |=\n> ka ge ga\n"),
      ElementsAre("bar 1, beat 1: marks: accent here, none there | there: b, bar 1, beat 1",
                  "bar 1, beat 2: marks: ~ here, none there | there: b, bar 1, beat 2",
                  "bar 1, beat 2: song text: 1:ze here, 1:ge there | there: b, bar 1, beat 2"));
}

TEST(Comparison, LeavesOutWhatIsIgnored) {
  CompareOptions options;
  options.aspects = {Aspect::pitch};
  EXPECT_THAT(
      between("五{accent} 六 七 - |=\n> ka ze ga\n", "五 六 七 ・ ||\n> ka ge ga\n", options),
      IsEmpty());
}

TEST(Comparison, ComparesTheForm) {
  EXPECT_THAT(between("|: 五 六 七 - :|x3\n", "|: 五 六 七 - :|\n"),
              ElementsAre("bar 1, beat 5: repeat to here, 3 times here, repeat to here there | "
                          "there: b, bar 1, beat 5"));
}

TEST(Comparison, AnInsertedBarShiftsTheFormOnce) {
  const auto found = between("五 - - - | {section \"A\"} 六 - - - | {section \"B\"} 七 - - - |=\n",
                             "五 - - - | 五 - - - | {section \"A\"} 六 - - - | {section \"B\"} 七 "
                             "- - - |=\n");
  EXPECT_THAT(found,
              ElementsAre("bar 2, beat 1: section \"A\" at another place | there: b, bar 3, beat 1",
                          "五 (F5) only there | there: b, bar 2, beat 1"));
}

TEST(Comparison, ComparesHeadersByWhatIsPlayed) {
  const auto a = tests::resolved_text("title: Rain\nflute: 6\n\n五 - - - |=\n").score;
  const auto b = tests::resolved_text("title: Snow\nflute: 六本調子\ntuning: 440\n\n五 - - - |=\n");
  EXPECT_THAT(differences(a, b.score),
              ElementsAre("header: title: \"Rain\" here, \"Snow\" there | there: b, header"));
}

TEST(Comparison, ComparesTemposBySpeed) {
  const auto at = [](const std::string& tempo) {
    return tests::resolved_text("flute: 6\n" + tempo + "\n五 - - - |=\n").score;
  };
  EXPECT_THAT(differences(at("tempo: 90\n"), at("tempo: 1/8=180\n")), IsEmpty());
  EXPECT_THAT(differences(at("tempo: 120\n"), at("")), IsEmpty());
  EXPECT_THAT(differences(at("tempo: 206\n"), at("tempo: 205.9995\n")), IsEmpty());
  EXPECT_THAT(differences(at("tempo: 90\n"), at("tempo: 90.5\n")),
              ElementsAre("header: tempo: \"1/4=90\" here, \"1/4=90.5\" there | there: b, header"));
}

TEST(Comparison, NamesBothPlaces) {
  const base::SourceText b("b.yubifu", "flute: 6\n\n五 五 七 - |=\n");
  const auto found = compare(score_of("五 六 七 - |=\n"), score_of("五 五 七 - |=\n"), {}, b);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].rule->name, "pitch-differs");
  EXPECT_EQ(found[0].message, "bar 1, beat 2: 六 (G5) here, 五 (F5) there");
  EXPECT_EQ(found[0].hint, "there: b.yubifu:3:3, bar 1, beat 2");
}

TEST(Sounding, PlaysRepeatsGraceNotesAndVerses) {
  const auto sounding = as_sounding(score_of("|: 五 六{pre 七} :|\n> ka ze\n>2 a me\n"));
  ASSERT_TRUE(sounding);
  std::vector<std::string> notes;
  for (const model::Note& note : sounding->notes) {
    notes.push_back(fmt::format("{} {} {}", printed(*note.tone.fingering), to_text(note.duration),
                                note.syllables.empty() ? "" : note.syllables[0].text));
  }
  EXPECT_THAT(notes,
              ElementsAre("五 1 ka", "七 1/8 ", "六 7/8 ze", "五 1 a", "七 1/8 ", "六 7/8 me"));
}

TEST(Comparison, FindsNothingBetweenAScoreAndItself) {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    auto resolved = fingering::resolve(support::random_score(seed), {});
    ASSERT_TRUE(resolved.value);
    EXPECT_THAT(differences(resolved.value->score, resolved.value->score), IsEmpty()) << seed;
  }
}

// A note is missing at the start and one at the end, so that no equal beginning and end helps. What
// it takes grows with the notes where scores have much in common: tests/bench/growth.sh counts it.
TEST(Comparison, FindsTheTwoNotesThatALongScoreLacks) {
  const std::size_t bars = support::size(10'000) / 4;
  model::Score a;
  for (std::size_t i = 0; i < bars; ++i) {
    model::Measure measure;
    measure.number = std::to_string(i + 1);
    measure.length = 4;
    a.measures.push_back(measure);
    for (int beat = 0; beat < 4; ++beat) {
      model::Note note;
      note.measure = i;
      note.onset = beat;
      note.duration = 1;
      const int key = 60 + static_cast<int>((i * 7 + static_cast<std::size_t>(beat * beat)) % 24);
      note.tone.pitch = model::Pitch{key, 0};
      a.notes.push_back(note);
    }
  }
  model::Score b = a;
  b.notes.erase(b.notes.begin() + 3);
  b.notes.erase(b.notes.end() - 3);
  const base::Diagnostics found = compare(a, b, {}, base::SourceText("b", {}));
  ASSERT_EQ(found.size(), 2U);
  EXPECT_THAT(found[0].message, StartsWith("bar 1, beat 4: "));
  EXPECT_THAT(found[1].message, StartsWith("bar " + std::to_string(bars) + ", beat 2: "));
}

}  // namespace
}  // namespace yubifu::check
