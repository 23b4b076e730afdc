#include "model/invariants.h"

#include <functional>

#include <gmock/gmock.h>

#include "support/invariants.h"
#include "support/small_score.h"

namespace yubifu::model {
namespace {

using support::small_score;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(Invariants, ASoundScoreBreaksNone) {
  EXPECT_THAT(support::broken_invariants(small_score(3)), IsEmpty());
  EXPECT_THAT(support::broken_invariants(Score{}), IsEmpty());
}

struct Case {
  const char* expected;
  std::function<void(Score&)> damage;
};

Direction at(std::size_t measure, Rational onset, DirectionValue value) {
  return {measure, onset, std::move(value), {}};
}

Syllable syllable(std::string verse, std::string text) {
  return {std::move(verse), std::move(text), SyllableKind::single, false};
}

void expect_exactly(const std::vector<Case>& cases) {
  for (const Case& one : cases) {
    Score score = small_score(3);
    one.damage(score);
    EXPECT_THAT(support::broken_invariants(score), ElementsAre(HasSubstr(one.expected)));
  }
}

TEST(Invariants, OfMeasures) {
  expect_exactly({
      {"header's meter",
       [](Score& s) {
         s.header.meter = {3, 4};
       }},
      {"header's beat", [](Score& s) { s.header.beat = Rational(1, 2); }},
      {"header's beat", [](Score& s) { s.measures[0].beat = 2; }},
      {"does not divide", [](Score& s) { s.measures[1].beat = 3; }},
      {"not positive", [](Score& s) { s.measures[1].beat = 0; }},
      {"irregular is true", [](Score& s) { s.measures[1].irregular = true; }},
      {"irregular is false", [](Score& s) { s.measures[1].length = 5; }},
      {"times without", [](Score& s) { s.measures[1].times = 3; }},
      {"times without",
       [](Score& s) {
         s.measures[1].repeat_end = true;
         s.measures[1].times = 1;
       }},
      {"ending",
       [](Score& s) {
         s.measures[1].ending = {2, 1};
       }},
      {"ending", [](Score& s) { s.measures[1].ending = {0}; }},
      {"flute's bar", [](Score& s) { s.flutes.resize(1), s.flutes[0].measure = 3; }},
      {"flutes are not in order", [](Score& s) { s.flutes.resize(2); }},
  });
}

TEST(Invariants, AShortBarNeedsAReason) {
  Score score = small_score(2);
  score.measures[1].length = 3;
  score.notes.pop_back();
  EXPECT_THAT(support::broken_invariants(score), ElementsAre(HasSubstr("irregular is false")));
  score.measures[0].length = 1;
  std::erase_if(score.notes, [](const Note& note) { return note.onset >= Rational(1); });
  EXPECT_THAT(support::broken_invariants(score), IsEmpty());
  score.measures[1].irregular = true;
  EXPECT_THAT(support::broken_invariants(score), ElementsAre(HasSubstr("irregular is true")));
}

TEST(Invariants, AnEmptyBarOnlyInFreeTime) {
  Score score;
  score.measures.resize(1);
  EXPECT_THAT(support::broken_invariants(score), ElementsAre(HasSubstr("its length is 0")));
  score.measures[0].meter = score.header.meter = Meter::free_time();
  EXPECT_THAT(support::broken_invariants(score), IsEmpty());
}

TEST(Invariants, OfTime) {
  expect_exactly({
      {"its bar does not exist", [](Score& s) { s.notes.back().measure = 3; }},
      {"may not stand at 9/2", [](Score& s) { s.notes[3].onset = Rational(9, 2); }},
      {"bar's end",
       [](Score& s) {
         s.notes[3].onset = 4, s.notes[3].duration = Rational(1, 2),
         s.notes.erase(s.notes.begin() + 4);
       }},
      {"duration is not positive", [](Score& s) { s.notes[1].duration = 0; }},
      {"reaches into the next note", [](Score& s) { s.notes[1].duration = Rational(3, 2); }},
      {"reaches into the next note", [](Score& s) { s.notes[3].duration = Rational(9, 8); }},
      {"reaches into the next note", [](Score& s) { s.notes.back().duration = 2; }},
      {"out of order", [](Score& s) { std::swap(s.notes[1], s.notes[2]); }},
  });
}

TEST(Invariants, ANoteMayReachOverSeveralBars) {
  Score score = small_score(3);
  score.notes.erase(score.notes.begin() + 4, score.notes.begin() + 9);
  score.notes[3].duration = 6;
  EXPECT_THAT(support::broken_invariants(score), IsEmpty());
  score.rests.push_back({2, 0, {Mark::fermata}, {}});
  EXPECT_THAT(support::broken_invariants(score), ElementsAre(HasSubstr("a note sounds there")));
  score.notes[3].duration = 5;
  EXPECT_THAT(support::broken_invariants(score), IsEmpty());
  score.notes[3].duration = 7;
  EXPECT_EQ(support::broken_invariants(score).size(), 2u);
}

TEST(Invariants, OfTones) {
  expect_exactly({
      {"neither fingered nor pitched", [](Score& s) { s.notes[1].tone = {}; }},
      {"gap without spelling", [](Score& s) { s.notes[1].tone.fingering->sign.reset(); }},
      {"half-holed gap",
       [](Score& s) {
         s.notes[1].tone.fingering = Fingering{std::nullopt, HalfHole::under, 0};
         s.notes[1].tone.spelling = Spelling{};
       }},
      {"empty sign", [](Score& s) { s.notes[1].tone.fingering->sign = Sign(""); }},
      {"bent by 201", [](Score& s) { s.notes[1].tone.fingering->bend_cents = 201; }},
      {"bent by -201", [](Score& s) { s.notes[1].tone.fingering->bend_cents = -201; }},
      {"grace note: neither", [](Score& s) { s.notes[1].grace_before.resize(1); }},
      {"grace note: neither", [](Score& s) { s.notes[1].grace_after.resize(1); }},
      {"pattern without holes", [](Score& s) { s.notes[1].tone.holes = HolePattern{}; }},
      {"asks for no holes", [](Score& s) { s.notes[1].asked_holes = HolePattern{}; }},
      {"marks are not in order",
       [](Score& s) {
         s.notes[1].marks = {Mark::accent, Mark::fermata};
       }},
      {"marks are not in order",
       [](Score& s) {
         s.notes[1].marks = {Mark::uchi, Mark::uchi};
       }},
      {"slur without", [](Score& s) { s.notes.back().slur_to_next = true; }},
      {"slide without", [](Score& s) { s.notes.back().marks = {Mark::suri}; }},
  });
}

TEST(Invariants, OfRests) {
  const auto rest = [](Rational onset, std::vector<Mark> marks) {
    return Rest{1, onset, std::move(marks), {}};
  };
  const auto no_notes = [](Score& s) { s.notes.resize(4); };
  expect_exactly({
      {"no marks", [&](Score& s) { no_notes(s), s.rests = {rest(1, {})}; }},
      {"only notes have", [&](Score& s) { no_notes(s), s.rests = {rest(1, {Mark::uchi})}; }},
      {"a note sounds", [&](Score& s) { s.rests = {rest(1, {Mark::breath})}; }},
      {"bar's end", [&](Score& s) { no_notes(s), s.rests = {rest(4, {Mark::breath})}; }},
      {"not in order",
       [&](Score& s) {
         no_notes(s);
         s.rests = {rest(1, {Mark::breath}), rest(1, {Mark::fermata})};
       }},
  });
}

TEST(Invariants, OfVerses) {
  const auto one = [](Score& s, Syllable value) {
    s.verses = {"1"};
    s.notes[0].syllables = {std::move(value)};
  };
  expect_exactly({
      {"not those in use", [](Score& s) { s.verses = {"1"}; }},
      {"out of order",
       [&](Score& s) {
         one(s, syllable("1", "la"));
         s.notes[0].syllables.push_back(syllable("1", "lo"));
       }},
      {"not those in use",
       [&](Score& s) {
         s.verses = {"2", "1"};
         s.notes[0].syllables = {syllable("2", "la"), syllable("1", "lo")};
       }},
      {"no such name",
       [&](Score& s) {
         s.verses = {"01"};
         s.notes[0].syllables = {syllable("01", "la")};
       }},
      {"has text unless", [&](Score& s) { one(s, syllable("1", "")); }},
      {"has text unless",
       [&](Score& s) {
         one(s, {"1", "la", SyllableKind::single, true});
       }},
      {"no other kind",
       [&](Score& s) {
         one(s, {"1", "", SyllableKind::end, true});
       }},
  });
}

TEST(Invariants, AnUnknownVerseIsToldAtTheNoteAndOfTheScore) {
  Score score = small_score(1);
  score.notes[2].syllables = {syllable("2", "la")};
  const auto broken = broken_invariants(score);
  ASSERT_EQ(broken.size(), 2u);
  EXPECT_EQ(broken[0].part, ScorePart::score);
  EXPECT_EQ(broken[1].part, ScorePart::note);
  EXPECT_EQ(broken[1].index, 2u);
}

TEST(Invariants, OfDirections) {
  expect_exactly({
      {"its bar does not exist", [](Score& s) { s.directions = {at(3, 0, Dynamic{"p"})}; }},
      {"may not stand at 5", [](Score& s) { s.directions = {at(1, 5, Dynamic{"p"})}; }},
      {"may not stand at 1", [](Score& s) { s.directions = {at(1, 1, FluteChange{})}; }},
      {"may not stand at 1", [](Score& s) { s.directions = {at(1, 1, SectionStart{"A"})}; }},
      {"may not stand at 1", [](Score& s) { s.directions = {at(1, 1, Cue::segno)}; }},
      {"may not stand at 0", [](Score& s) { s.directions = {at(1, 0, Cue::fine)}; }},
      {"may not stand at 0", [](Score& s) { s.directions = {at(1, 0, BeatChange{2})}; }},
      {"does not divide", [](Score& s) { s.directions = {at(1, 1, BeatChange{3})}; }},
      {"belongs to the header", [](Score& s) { s.directions = {at(0, 0, TempoChange{})}; }},
      {"belongs to the header", [](Score& s) { s.directions = {at(0, 0, KeyChange{})}; }},
      {"belongs to the header", [](Score& s) { s.directions = {at(0, 0, FluteChange{})}; }},
      {"not in order",
       [](Score& s) {
         s.directions = {at(1, 2, Dynamic{"p"}), at(1, 1, Dynamic{"f"})};
       }},
  });
}

TEST(Invariants, DirectionsThatAreWell) {
  Score score = small_score(3);
  score.directions = {at(0, 0, Cue::segno),    at(0, 0, SectionStart{"A"}),
                      at(0, 4, Cue::rit),      at(0, 4, Cue::to_coda),
                      at(1, 0, TempoChange{}), at(1, 0, FluteChange{}),
                      at(1, 2, BeatChange{2}), at(1, 4, Cue::dal_segno),
                      at(2, 0, Cue::coda),     at(2, Rational(1, 3), KeyChange{}),
                      at(2, 4, Cue::until_cue)};
  EXPECT_THAT(support::broken_invariants(score), IsEmpty());
}

TEST(Invariants, TimeThatOverflowsIsTold) {
  Score score = small_score(2);
  score.measures[0].meter = score.measures[1].meter = score.header.meter = Meter::free_time();
  score.measures[0].length = Rational(INT64_MAX - 24, 7);
  score.notes[3].duration = Rational(INT64_MAX - 58, 11);
  EXPECT_FALSE(support::broken_invariants(score).empty());
}

}  // namespace
}  // namespace yubifu::model
