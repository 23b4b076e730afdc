#include "support/same_music.h"

#include <functional>

#include <gmock/gmock.h>

#include "support/score_generator.h"
#include "support/small_score.h"

namespace yubifu::model {
namespace {

using support::low_tone;
using support::small_score;
using testing::HasSubstr;
using testing::Optional;

struct Change {
  const char* expected;
  std::function<void(Score&)> change;
};

Direction direction_at(std::size_t measure, Rational onset, DirectionValue value) {
  return {measure, onset, std::move(value), {}};
}

// A score with something of everything that can differ.
Score rich_score() {
  Score score = small_score(3);
  score.directions = {direction_at(1, 0, SectionStart{"A"}), direction_at(1, 2, Cue::rit)};
  score.notes.erase(score.notes.begin() + 5);
  score.rests = {{1, 1, {Mark::fermata}, {}}};
  score.verses = {"1"};
  score.notes[0].syllables = {{"1", "la", SyllableKind::single, false}};
  score.notes[0].marks = {Mark::uchi};
  score.notes[0].grace_before = {low_tone(5)};
  score.notes[1].tone.fingering = Fingering{};
  score.notes[1].tone.spelling = Spelling{Step::f, 1, 4};
  return score;
}

TEST(FirstDifference, NamesWhatDiffersAndWhere) {
  const std::vector<Change> cases{
      {R"(header: the title is "" in one and "Rain" in the other)",
       [](Score& s) { s.header.title = "Rain"; }},
      {"header: the flute is nothing in one and 6+15c",
       [](Score& s) {
         s.header.flute = FluteSize{6, 15};
       }},
      {"the tuning is nothing in one and 442", [](Score& s) { s.header.tuning_hz = 442; }},
      {"the tempo is nothing in one and 3/8=60",
       [](Score& s) {
         s.header.tempo = Tempo{60, Rational(3, 2)};
       }},
      {"the key is nothing in one and Bb",
       [](Score& s) {
         s.header.key = Key{-2, Mode::major};
       }},
      {"the staff is nothing in one and sounding",
       [](Score& s) { s.header.staff = StaffMode::sounding; }},
      {"the zero is cross in one and tube", [](Score& s) { s.header.zero = ZeroSign::tube; }},
      {"further field is 0 in one and 1",
       [](Score& s) {
         s.header.unknown = {{"dance", "x"}};
       }},
      {"measure 2: the length is 4 in one and 7/2",
       [](Score& s) { s.measures[1].length = Rational(7, 2); }},
      {"measure 2: the end of a repeat is no", [](Score& s) { s.measures[1].repeat_end = true; }},
      {"measure 2: the count of each ending number", [](Score& s) { s.measures[1].ending = {1}; }},
      {"measure 3: the bar line is regular in one and final",
       [](Score& s) { s.measures[2].right = BarStyle::final; }},
      {"measure 2: the beat is 1 in one and 1/2",
       [](Score& s) { s.measures[1].beat = Rational(1, 2); }},
      {"measure 1, note 3: the onset is 2 in one and 5/2",
       [](Score& s) { s.notes[2].onset = Rational(5, 2); }},
      {"measure 1, note 3: the duration is 1 in one and 1/2",
       [](Score& s) { s.notes[2].duration = Rational(1, 2); }},
      {"measure 1, note 3: the sign is 三 in one and 五",
       [](Score& s) { s.notes[2].tone = low_tone(5); }},
      {"the sign is 三 in one and 三メ↓20",
       [](Score& s) {
         s.notes[2].tone.fingering->half = HalfHole::under;
         s.notes[2].tone.fingering->bend_cents = -20;
       }},
      {"measure 1, note 2: the sign is ?F#4 in one and ?Gb4",
       [](Score& s) {
         s.notes[1].tone.spelling = Spelling{Step::g, -1, 4};
       }},
      {"the sign is 三 in one and no fingering",
       [](Score& s) { s.notes[2].tone.fingering.reset(); }},
      {"the asked pattern is nothing in one and ●○",
       [](Score& s) {
         s.notes[2].asked_holes = HolePattern{{Hole::closed, Hole::open}};
       }},
      {"note 1: the mark 1 is uchi in one and age",
       [](Score& s) { s.notes[0].marks = {Mark::age}; }},
      {"note 1: the grace note before 1 is 五 in one and 六",
       [](Score& s) { s.notes[0].grace_before = {low_tone(6)}; }},
      {"note 3: the slur is no in one and yes", [](Score& s) { s.notes[2].slur_to_next = true; }},
      {R"(note 1: the syllable 1 is "la" (single, verse 1) in one and "lo" (single, verse 1))",
       [](Score& s) { s.notes[0].syllables[0].text = "lo"; }},
      {"number of notes", [](Score& s) { s.notes.pop_back(); }},
      {"measure 2, marked rest 1: the mark 1 is fermata in one and breath",
       [](Score& s) { s.rests[0].marks = {Mark::breath}; }},
      {"number of marked rests is 1 in one and 0", [](Score& s) { s.rests.clear(); }},
      {R"(measure 2, direction 1: the direction is section "A" in one and section "B")",
       [](Score& s) { s.directions[0].value = SectionStart{"B"}; }},
      {"measure 2, direction 2: the direction is rit in one and beat 1/2",
       [](Score& s) { s.directions[1].value = BeatChange{2}; }},
      {"number of directions", [](Score& s) { s.directions.pop_back(); }},
      {"number of measures is 3 in one and 2",
       [](Score& s) {
         s.measures.pop_back();
         s.notes.resize(7);
       }},
      {"count of each verse is 1 in one and 2",
       [](Score& s) {
         s.verses = {"1", "2"};
       }},
  };
  for (const Change& one : cases) {
    Score changed = rich_score();
    one.change(changed);
    EXPECT_THAT(support::first_difference(rich_score(), changed),
                Optional(HasSubstr(one.expected)));
  }
}

TEST(FirstDifference, LeavesLayoutAndWhatIsWorkedOutAside) {
  Score changed = rich_score();
  changed.header.comments = {"hello"};
  changed.flutes.resize(1);
  changed.measures[0].number = "17";
  changed.measures[1].break_before = LineBreak::line;
  changed.measures[1].comments = {{"hello", true}};
  changed.measures[1].source = {3, 4};
  changed.notes[0].tone.pitch = Pitch{60, 12};
  changed.notes[0].tone.spelling = Spelling{};
  changed.notes[0].tone.holes = HolePattern{{Hole::open}};
  changed.notes[0].source = {1, 2};
  EXPECT_EQ(support::first_difference(rich_score(), changed), std::nullopt);
}

TEST(FirstDifference, OfNotesWithoutFingeringIsThatOfTheirPitch) {
  Score one = small_score(1);
  Score other = small_score(1);
  one.notes[0].tone = other.notes[0].tone = Tone{};
  one.notes[0].tone.pitch = Pitch{60, 0};
  other.notes[0].tone.pitch = Pitch{60, 0.9};
  EXPECT_EQ(support::first_difference(one, other), std::nullopt);
  other.notes[0].tone.pitch = Pitch{61, 0};
  EXPECT_THAT(support::first_difference(one, other),
              Optional(HasSubstr("key 60 +0.0 cents in one and key 61 +0.0 cents")));
}

class PitchAndTime : public testing::Test {
 protected:
  PitchAndTime() : one_(small_score(2)) {
    for (Note& note : one_.notes) note.tone.pitch = Pitch{62, -10};
    other_ = one_;
  }

  std::optional<std::string> difference() const {
    return support::first_difference(one_, other_, support::Sameness::pitch_and_time);
  }

  Score one_;
  Score other_;
};

TEST_F(PitchAndTime, LooksAtNothingElse) {
  other_.header.title = "Rain";
  other_.measures[0].repeat_start = true;
  other_.notes[0].tone.fingering.reset();
  other_.notes[0].marks = {Mark::fermata};
  other_.notes[1].tone.pitch = Pitch{62, -10.9};
  EXPECT_EQ(difference(), std::nullopt);
}

TEST_F(PitchAndTime, BarsMayDiffer) {
  other_.measures[0].length = 2;
  other_.measures.push_back(other_.measures[1]);
  other_.measures[1].length = 2;
  for (std::size_t i = 2; i < 4; ++i) {
    other_.notes[i].measure = 1;
    other_.notes[i].onset -= 2;
  }
  for (std::size_t i = 4; i < 8; ++i) other_.notes[i].measure = 2;
  EXPECT_EQ(difference(), std::nullopt);
}

TEST_F(PitchAndTime, TellsPitchOnsetDurationAndNumber) {
  other_.notes[2].tone.pitch = Pitch{62, -12};
  EXPECT_THAT(difference(), Optional(HasSubstr("measure 1, note 3: the pitch is key 62 -10.0")));
  other_ = one_;
  other_.notes[5].onset = Rational(7, 6);
  EXPECT_THAT(difference(),
              Optional(HasSubstr("measure 2, note 6: the onset is 1 in one and 7/6")));
  other_ = one_;
  other_.notes[5].duration = Rational(5, 6);
  EXPECT_THAT(difference(), Optional(HasSubstr("note 6: the duration is 1 in one and 5/6")));
  other_ = one_;
  other_.notes.pop_back();
  EXPECT_THAT(difference(), Optional(HasSubstr("number of notes is 8 in one and 7")));
}

TEST_F(PitchAndTime, NotesWithoutPitchAreNotTheSame) {
  one_.notes[1].tone.pitch.reset();
  other_.notes[1].tone.pitch.reset();
  EXPECT_THAT(difference(), Optional(HasSubstr("note 2: no pitch is known")));
}

TEST(FirstDifference, AGeneratedScoreIsItself) {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const Score score = support::random_score(seed);
    EXPECT_EQ(support::first_difference(score, score), std::nullopt);
  }
}

}  // namespace
}  // namespace yubifu::model
