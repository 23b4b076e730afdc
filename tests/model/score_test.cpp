// The questions that readers and writers ask of a score.
#include "model/score.h"

#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "model/pitch.h"
#include "model/rhythm_tree.h"
#include "support/invariants.h"
#include "support/small_score.h"

namespace yubifu::model {
namespace {

using support::low_tone;
using support::small_score;
using testing::ElementsAre;
using testing::IsEmpty;

std::vector<std::string> numbers(Score score) {
  number_measures(score);
  std::vector<std::string> list;
  for (const Measure& measure : score.measures) list.push_back(measure.number);
  return list;
}

void shorten(Score& score, std::size_t measure, Rational length) {
  score.measures[measure].length = length;
  std::erase_if(score.notes,
                [&](const Note& note) { return note.measure == measure && note.onset >= length; });
}

TEST(Score, MovesAllItsTonesByOctavesOrNone) {
  Score score = small_score(1);
  Tone tone;
  tone.pitch = Pitch{76, -20};
  tone.spelling = parse_spelling("E5");
  for (Note& note : score.notes) note.tone = tone;
  score.notes.front().grace_before = {tone};
  score.notes.front().grace_after = {tone};
  ASSERT_TRUE(move_octaves(score.notes, -2));
  for (const Tone& moved :
       {score.notes.front().tone, score.notes.back().tone, score.notes.front().grace_before[0],
        score.notes.front().grace_after[0]}) {
    EXPECT_EQ(moved.pitch, (Pitch{52, -20}));
    EXPECT_EQ(to_text(*moved.spelling), "E3");
  }
  score.notes.front().grace_after[0].pitch = Pitch{kHighestKey - 11, 0};
  EXPECT_FALSE(move_octaves(score.notes, 1));
  EXPECT_EQ(score.notes.back().tone.pitch, (Pitch{52, -20}));
}

TEST(Score, EndingsStartAndStop) {
  Score score = small_score(6);
  score.measures[1].ending = {1};
  score.measures[2].ending = {1};
  score.measures[2].repeat_end = true;
  score.measures[3].ending = {2};
  score.measures[4].ending = {3};
  std::string starts;
  std::string stops;
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    starts += ending_starts(score, i) ? 'x' : '.';
    stops += ending_stops(score, i) ? 'x' : '.';
  }
  EXPECT_EQ(starts, ".x.xx.");
  EXPECT_EQ(stops, "..xxx.");
}

TEST(Score, TwoEndingsOfOneNumberArePartedByADoubleBar) {
  Score score = small_score(2);
  score.measures[0].ending = {1};
  score.measures[1].ending = {1};
  EXPECT_FALSE(ending_starts(score, 1));
  EXPECT_FALSE(ending_stops(score, 0));
  score.measures[0].right = BarStyle::section;
  EXPECT_TRUE(ending_starts(score, 1));
  EXPECT_TRUE(ending_stops(score, 0));
  EXPECT_TRUE(ending_stops(score, 1));
}

// Each reason that the notation names, one at a time, for the third of five measures.
TEST(Score, AShortMeasureHasAReason) {
  const auto may = [](auto change) {
    Score score = small_score(5);
    shorten(score, 2, 3);
    change(score.measures);
    EXPECT_NE(may_be_short(score, 2), needs_irregular(score, 2));
    return may_be_short(score, 2);
  };
  using Measures = std::vector<Measure>;
  EXPECT_FALSE(may([](Measures&) {}));
  EXPECT_FALSE(may([](Measures& m) { m[2].repeat_end = true; }));
  EXPECT_FALSE(may([](Measures& m) { m[2].right = BarStyle::section; }));
  EXPECT_FALSE(may([](Measures& m) { m[3].repeat_start = true; }));
  EXPECT_TRUE(may([](Measures& m) { m[2].ending = {1}; }));
  EXPECT_TRUE(may([](Measures& m) { m[3].ending = {1}; }));
  EXPECT_TRUE(may([](Measures& m) { m[1].ending = {1}; }));
  EXPECT_TRUE(may([](Measures& m) { m[1].ending = m[2].ending = {1}; }));
  EXPECT_FALSE(may([](Measures& m) {
    m[1].ending = m[2].ending = {1};
    m[2].repeat_end = true;
  }));
  EXPECT_TRUE(may([](Measures& m) { m[1].meter = {3, 4}; }));
  EXPECT_TRUE(may([](Measures& m) { m[3].meter = {3, 4}; }));
  EXPECT_FALSE(may([](Measures& m) { m[4].meter = {3, 4}; }));
}

// Common practice: what a pickup takes from the first bar is missing in the last, and a repeat sign
// or double bar inside a bar parts it in two.
TEST(Score, ShortMeasuresCompleteEachOther) {
  const auto may = [](std::size_t a, std::size_t b, auto change) {
    Score score = small_score(6);
    shorten(score, a, 1);
    shorten(score, b, 3);
    change(score.measures);
    const bool both = may_be_short(score, a) && may_be_short(score, b);
    mark_irregular(score);
    EXPECT_EQ(both, !score.measures[a].irregular && !score.measures[b].irregular);
    score.measures[b].length = 2;  // together no whole bar
    EXPECT_TRUE(needs_irregular(score, b));
    return both;
  };
  using Measures = std::vector<Measure>;
  const auto nothing = [](Measures&) {};
  EXPECT_TRUE(may(0, 5, nothing));
  EXPECT_FALSE(may(0, 4, nothing));
  EXPECT_FALSE(may(2, 3, nothing));
  EXPECT_TRUE(may(2, 3, [](Measures& m) { m[2].repeat_end = true; }));
  EXPECT_TRUE(may(2, 3, [](Measures& m) { m[3].repeat_start = true; }));
  EXPECT_TRUE(may(2, 3, [](Measures& m) { m[2].right = BarStyle::section; }));
  EXPECT_TRUE(may(0, 3, [](Measures& m) { m[3].repeat_end = true; }));
  EXPECT_TRUE(may(2, 4, [](Measures& m) { m[2].repeat_start = m[4].repeat_end = true; }));
  EXPECT_FALSE(may(2, 4, [](Measures& m) { m[2].repeat_start = m[3].repeat_end = true; }));
  // A section may have repeats inside.
  EXPECT_TRUE(may(0, 4, [](Measures& m) {
    m[2].repeat_end = true;
    m[4].right = BarStyle::section;
  }));
  EXPECT_FALSE(may(0, 4, [](Measures& m) {
    m[2].right = BarStyle::section;
    m[4].right = BarStyle::section;
  }));
}

TEST(Score, TheLastMeasureNeedsAReasonToo) {
  Score score = small_score(2);
  shorten(score, 1, 3);
  EXPECT_FALSE(may_be_short(score, 1));
  EXPECT_TRUE(needs_irregular(score, 1));
  shorten(score, 0, 1);
  EXPECT_TRUE(may_be_short(score, 0));
  EXPECT_TRUE(may_be_short(score, 1));
}

TEST(Score, ALongMeasureIsAlwaysIrregularAndAFreeOneNever) {
  Score score = small_score(3);
  score.measures[0].length = 5;
  EXPECT_TRUE(needs_irregular(score, 0));
  score.measures[0].meter = Meter::free_time();
  EXPECT_FALSE(needs_irregular(score, 0));
}

TEST(Score, MeasuresAreNumberedFromOneOrFromThePickup) {
  EXPECT_THAT(numbers(small_score(3)), ElementsAre("1", "2", "3"));
  Score pickup = small_score(3);
  shorten(pickup, 0, 1);
  EXPECT_THAT(numbers(pickup), ElementsAre("0", "1", "2"));
  EXPECT_THAT(numbers(Score{}), IsEmpty());
}

TEST(Score, TheHalvesOfABarPartedByARepeatSignShareANumber) {
  Score score = small_score(4);
  shorten(score, 1, 3);
  shorten(score, 2, 1);
  score.measures[1].repeat_end = true;
  EXPECT_TRUE(fraction_comes_first(score, 2));
  EXPECT_FALSE(fraction_comes_first(score, 1));
  EXPECT_THAT(numbers(score), ElementsAre("1", "2", "2", "3"));
  // Halves that do not add up are two measures.
  score.measures[2].length = Rational(1, 2);
  EXPECT_THAT(numbers(score), ElementsAre("1", "2", "3", "4"));
}

TEST(Score, MeasuresAreCalledByTheirNumberOrElseTheirPlace) {
  Score score = small_score(2);
  score.measures[0].number = "A1";
  score.measures[1].number.clear();
  EXPECT_EQ(measure_name(score, 0), "A1");
  EXPECT_EQ(measure_name(score, 1), "2");
}

TEST(Score, VersesAreNamedByNumberAndShogaComesLast) {
  EXPECT_EQ(verse_rank("1"), 1);
  EXPECT_EQ(verse_rank("12"), 12);
  EXPECT_GT(verse_rank("shoga"), 999);
  for (const char* name : {"", "0", "-1", "01", "1.5", "one", "Shoga", "1 ", "1000000"}) {
    EXPECT_EQ(verse_rank(name), 0) << name;
  }
  Score score = small_score(1);
  score.notes[0].syllables = {{"10", "ka", SyllableKind::single, false}};
  score.notes[1].syllables = {{"shoga", "hya", SyllableKind::single, false}};
  score.notes[2].syllables = {{"2", "ka", SyllableKind::single, false}};
  EXPECT_THAT(verses_in_use(score), ElementsAre("2", "10", "shoga"));
}

TEST(Score, EachTimeItsVerseIsSungOrTheLastBefore) {
  Note note;
  EXPECT_EQ(sung_in_pass(note, 1), nullptr);
  note.syllables = {{"1", "みな", SyllableKind::single, false},
                    {"3", "かぜ", SyllableKind::single, false},
                    {"shoga", "ヒャ", SyllableKind::single, false}};
  const auto sung = [&](int pass) { return sung_in_pass(note, pass)->text; };
  EXPECT_EQ(sung(1), "みな");
  EXPECT_EQ(sung(2), "みな");
  EXPECT_EQ(sung(3), "かぜ");
  EXPECT_EQ(sung(4), "かぜ");
  note.syllables.erase(note.syllables.begin());
  EXPECT_EQ(sung(1), "かぜ");
}

TEST(Score, TheStartOfTheMusicIsGatheredIntoTheHeader) {
  Score score = small_score(2);
  for (Measure& measure : score.measures) {
    measure.meter = {2, 2};
    measure.beat = 1;
  }
  score.directions = {
      {0, 0, TempoChange{{90, 1}}, {}},        {0, 0, SectionStart{"A"}, {}},
      {0, 0, KeyChange{{2, Mode::major}}, {}}, {0, 0, FluteChange{FluteSize{6, 0}}, {}},
      {0, 1, TempoChange{{60, 1}}, {}},        {1, 0, KeyChange{{-1, Mode::major}}, {}}};
  gather_start_into_header(score);
  EXPECT_EQ(score.header.meter, (Meter{2, 2}));
  EXPECT_EQ(score.header.beat, Rational(1));
  EXPECT_EQ(score.header.tempo, (Tempo{90, 1}));
  EXPECT_EQ(score.header.key, (Key{2, Mode::major}));
  EXPECT_EQ(score.header.flute, FluteName(FluteSize{6, 0}));
  ASSERT_EQ(score.directions.size(), 3u);
  EXPECT_TRUE(std::holds_alternative<SectionStart>(score.directions[0].value));
  EXPECT_EQ(score.directions[1].onset, Rational(1));
  EXPECT_EQ(score.directions[2].measure, 1u);
  EXPECT_THAT(support::broken_invariants(score), IsEmpty());
  // The beat of the meter is no field of its own.
  score.measures[0].beat = 2;
  gather_start_into_header(score);
  EXPECT_EQ(score.header.beat, std::nullopt);
}

// "0-1 note 0 out", one line a span.
std::vector<std::string> spans_of(const BarContent& bar) {
  std::vector<std::string> lines;
  for (const BarSpan& span : bar.spans) {
    std::string line = to_text(span.begin) + "-" + to_text(span.end);
    line += span.note ? " note " + std::to_string(*span.note) : " rest";
    if (span.rest) line += " " + std::to_string(*span.rest);
    if (span.held_in) line += " in";
    if (span.held_out) line += " out";
    lines.push_back(line);
  }
  return lines;
}

TEST(BarContents, CutAtBarLinesRestsAndDirections) {
  Score score = small_score(2);
  score.notes.clear();
  Note held{0, 1, 4, low_tone(3), {}, {}, {}, {}, false, {}, {}};
  score.notes = {held};
  score.rests = {{1, 2, {Mark::fermata}, {}}};
  score.directions = {{1, 3, Cue::rit, {}}};
  ASSERT_THAT(support::broken_invariants(score), IsEmpty());
  const auto bars = bar_contents(score);
  EXPECT_THAT(spans_of(bars[0]), ElementsAre("0-1 rest", "1-4 note 0 out"));
  EXPECT_THAT(spans_of(bars[1]),
              ElementsAre("0-1 note 0 in", "1-2 rest", "2-3 rest 0", "3-4 rest"));
  EXPECT_THAT(bars[1].directions, ElementsAre(0u));
}

TEST(BarContents, ANoteHeldThroughABarOfNoLengthHasNoSpanThere) {
  Score score = small_score(3);
  score.header.meter = Meter::free_time();
  for (Measure& measure : score.measures) measure.meter = Meter::free_time();
  score.measures[1].length = 0;
  score.notes = {{0, 3, 3, low_tone(3), {}, {}, {}, {}, false, {}, {}}};
  ASSERT_THAT(support::broken_invariants(score), IsEmpty());
  const auto bars = bar_contents(score);
  EXPECT_THAT(spans_of(bars[0]), ElementsAre("0-3 rest", "3-4 note 0 out"));
  EXPECT_THAT(spans_of(bars[1]), IsEmpty());
  EXPECT_THAT(spans_of(bars[2]), ElementsAre("0-2 note 0 in", "2-4 rest"));
}

}  // namespace
}  // namespace yubifu::model
