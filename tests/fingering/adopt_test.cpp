// Annotation that lost its name, and songs that only look like it.
#include <gmock/gmock.h>

#include "fingering/resolve.h"
#include "support/invariants.h"
#include "tune.h"

namespace yubifu::fingering {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// C5 D5 E5 with song text under each note in one verse.
model::Score song(const std::vector<std::string>& texts, const std::string& verse = "1") {
  model::Score score = tune_of_notes({{"C5"}, {"D5"}, {"E5"}, {"Bb5"}});
  score.header.flute = model::FluteSize{8, 0};
  for (std::size_t i = 0; i < texts.size(); ++i) {
    if (!texts[i].empty()) score.notes[i].syllables.push_back({verse, texts[i]});
  }
  score.verses = {verse};
  return score;
}

Resolved resolved(model::Score score, base::Diagnostics* diagnostics = nullptr) {
  ResolveOptions options;
  options.origin = Origin::staff;
  auto outcome = resolve(std::move(score), options);
  if (diagnostics) *diagnostics = outcome.diagnostics;
  EXPECT_THAT(support::broken_invariants(outcome.value->score), IsEmpty());
  return *std::move(outcome.value);
}

bool is_taken(const model::Score& score) {
  return resolved(score).score.verses.empty();
}

TEST(AdoptAnnotation, takes_a_verse_of_right_signs_for_the_fingering) {
  base::Diagnostics diagnostics;
  const Resolved done = resolved(song({"一", "二", "三", "七メ"}), &diagnostics);
  // Found by inference it would be 0: the annotation counts.
  EXPECT_THAT(signs_of(done.score), ElementsAre("一", "二", "三", "七メ"));
  EXPECT_THAT(done.score.verses, IsEmpty());
  EXPECT_THAT(done.score.notes[0].syllables, IsEmpty());
  EXPECT_THAT(rule_names(diagnostics), ElementsAre("annotation-taken"));
}

TEST(AdoptAnnotation, reads_bends_and_ignores_strokes) {
  const Resolved done = resolved(song({"一／", "二↓20", "三＿｜＿", "七メ"}));
  EXPECT_THAT(signs_of(done.score), ElementsAre("一", "二↓20", "三", "七メ"));
}

TEST(AdoptAnnotation, leaves_songs_that_count) {
  EXPECT_FALSE(is_taken(song({"一", "二", "三", "と"})));   // another word among them
  EXPECT_FALSE(is_taken(song({"二", "三", "四", "0"})));    // other pitches than these signs
  EXPECT_FALSE(is_taken(song({"一", "二", "三", "七"})));   // one wrong
  EXPECT_FALSE(is_taken(song({"一", "二"})));               // too few
  EXPECT_FALSE(is_taken(song({"r1", "r2", "r3", "r7m"})));  // not the printed form
  EXPECT_TRUE(is_taken(song({"一", "", "三", "七メ"})));
  EXPECT_TRUE(is_taken(song({"一", "二", "三"})));
}

TEST(AdoptAnnotation, syllables_of_one_word_are_song) {
  model::Score score = song({"一", "二", "三"});
  score.notes[0].syllables[0].kind = model::SyllableKind::begin;
  score.notes[1].syllables[0].kind = model::SyllableKind::end;
  EXPECT_FALSE(is_taken(score));
}

TEST(AdoptAnnotation, the_other_verses_move_up) {
  model::Score score = song({"一", "二", "三"});
  score.verses = {"1", "2", "3", "shoga"};
  score.notes[0].syllables.push_back({"2", "la"});
  score.notes[0].syllables.push_back({"3", "lo"});
  score.notes[0].syllables.push_back({"shoga", "hi"});
  const Resolved done = resolved(score);
  EXPECT_THAT(done.score.verses, ElementsAre("1", "2", "shoga"));
  ASSERT_EQ(done.score.notes[0].syllables.size(), 3u);
  EXPECT_EQ(done.score.notes[0].syllables[0], (model::Syllable{"1", "la"}));
  EXPECT_EQ(done.score.notes[0].syllables[1], (model::Syllable{"2", "lo"}));
  EXPECT_EQ(done.score.notes[0].syllables[2], (model::Syllable{"shoga", "hi"}));
}

TEST(AdoptAnnotation, finds_it_after_the_song_too) {
  model::Score score = song({"mi", "na", "to"});
  score.verses = {"1", "2"};
  for (int i = 0; i < 3; ++i) {
    const char* const signs[]{"一", "二", "三"};
    score.notes[std::size_t(i)].syllables.push_back({"2", signs[i]});
  }
  const Resolved done = resolved(score);
  EXPECT_THAT(done.score.verses, ElementsAre("1"));
  EXPECT_EQ(done.score.notes[0].syllables[0].text, "mi");
}

model::Score an_octave_lower(model::Score score) {
  EXPECT_TRUE(model::move_octaves(score.notes, -1));
  return score;
}

// Annotate moves the fingers where the melody lies too low, and the staff stays.
TEST(AdoptAnnotation, may_lie_one_same_number_of_octaves_from_the_notes) {
  base::Diagnostics diagnostics;
  const Resolved done = resolved(an_octave_lower(song({"一", "二", "三", "七メ"})), &diagnostics);
  EXPECT_THAT(signs_of(done.score), ElementsAre("一", "二", "三", "七メ"));
  EXPECT_THAT(notes_of(done.score), ElementsAre("C5", "D5", "E5", "Bb5"));
  EXPECT_THAT(rule_names(diagnostics), ElementsAre("annotation-taken", "octave-shifted"));
  EXPECT_EQ(diagnostics[1].message,
            "the fingering lies one octave above the written notes, and so it sounds");
  // 1 is an octave over 一: not the same number for all.
  EXPECT_FALSE(is_taken(song({"1", "二", "三", "七メ"})));
  EXPECT_TRUE(is_taken(song({"1", "2", "3", "7メ"})));
}

TEST(AdoptAnnotation, a_midi_file_sounds_as_it_says) {
  ResolveOptions options;
  options.origin = Origin::sound;
  const auto done = resolve(song({"1", "2", "3", "7メ"}), options);
  EXPECT_THAT(done.value->score.verses, ElementsAre("1"));
  EXPECT_THAT(notes_of(done.value->score), ElementsAre("C5", "D5", "E5", "Bb5"));
}

// Gaps are no signs, but annotate writes them.
TEST(AdoptAnnotation, gaps_stand_among_the_signs) {
  const Resolved done = resolved(an_octave_lower(song({"一", "二", "三", "?A#5"})));
  EXPECT_THAT(signs_of(done.score), ElementsAre("一", "二", "三", "?A#5"));
  EXPECT_FALSE(is_taken(song({"一", "二", "三", "?A5"})));
  EXPECT_FALSE(is_taken(song({"一", "二", "?E5", "?Bb5"})));  // two signs are too few
}

// A program may keep the names of verses and lose the fields.
TEST(AdoptAnnotation, named_fingers_move_the_notes_where_the_file_says_no_more) {
  const auto with_fingers = [](const std::vector<std::string>& signs) {
    model::Score score = tune_of_notes({{"C5"}, {"D5"}, {"E5"}, {"Bb5"}});
    for (std::size_t i = 0; i < signs.size(); ++i) {
      score.notes[i].tone.fingering = model::parse_printed(signs[i]);
    }
    return score;
  };
  base::Diagnostics diagnostics;
  Resolved done = resolved(with_fingers({"1", "2", "3", "7メ"}), &diagnostics);
  EXPECT_THAT(notes_of(done.score), ElementsAre("C6", "D6", "E6", "Bb6"));
  EXPECT_THAT(rule_names(diagnostics), ElementsAre("no-flute-given", "octave-shifted"));
  // Too few, or not all: then the notes count and the fingers are told.
  for (const std::vector<std::string>& signs :
       {std::vector<std::string>{"1", "2"}, {"1", "2", "三"}, {"1", "2", "4"}}) {
    resolved(with_fingers(signs), &diagnostics);
    EXPECT_THAT(rule_names(diagnostics), testing::Contains(testing::StartsWith("fingering-dis")));
  }
  // A file that says its flute would say its octave.
  model::Score ours = with_fingers({"1", "2", "3", "7メ"});
  ours.header.flute = model::FluteSize{8, 0};
  resolved(ours, &diagnostics);
  EXPECT_THAT(rule_names(diagnostics), testing::Each(testing::StartsWith("fingering-disagrees")));
}

TEST(AdoptAnnotation, is_for_files_without_any_named_fingering) {
  model::Score score = song({"一", "二", "三"});
  score.notes[3].tone.fingering = model::parse_printed("七メ");
  EXPECT_FALSE(is_taken(score));
}

}  // namespace
}  // namespace yubifu::fingering
