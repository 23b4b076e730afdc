// Spelling, accidentals, key and clef; flutes that follow no Western scale.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "musicxml/rules.h"
#include "musicxml/staff_score.h"
#include "musicxml/write/staff_plan.h"
#include "musicxml/write/writer.h"

namespace yubifu::musicxml {
namespace {

using support::document_of;
using support::fingered_score;
using support::written_pitches;
using Pitches = std::vector<std::string>;

// Section 4 of the design: a half-holed note is its sign's letter flattened.
TEST(SpellingInC, FlattensTheLetterOfTheSign) {
  model::Score score = fingered_score("二メ 三メ 五メ 六メ 七メ 0 2メ 7メ");
  EXPECT_EQ(written_pitches(document_of(score)),
            (Pitches{"Db4", "Eb4", "Gb4", "Ab4", "Bb4", "Bb4", "Db5", "Bb5"}));
}

TEST(SpellingInC, TakesNaturalLettersForPlainSigns) {
  model::Score score = fingered_score("筒 一 二 三 四 五 六 七 1 7 8 5̇");
  EXPECT_EQ(written_pitches(document_of(score)),
            (Pitches{"A3", "C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5", "B5", "C6", "G6"}));
}

TEST(SpellingInC, HasFSharpInSharpKeys) {
  model::Score score = fingered_score("五メ 七メ 二メ 五");
  score.header.key = model::Key{1, model::Mode::major};
  EXPECT_EQ(written_pitches(document_of(score)), (Pitches{"F#4", "Bb4(flat)", "Db4(flat)", "G4"}));
}

TEST(SpellingInC, RaisesTheLetterOfASignWithKa) {
  model::Score score = fingered_score("一カ 二カ 四カ 六カ");
  score.header.key = model::Key{0, model::Mode::major};
  EXPECT_EQ(written_pitches(document_of(score)),
            (Pitches{"C#4(sharp)", "D#4(sharp)", "F#4(sharp)", "A#4(sharp)"}));
}

TEST(SpellingInC, RoundsBendsToTheNearestSemitone) {
  model::Score score = fingered_score("三↓20 三↓60 三↑50 三↑51");
  score.header.key = model::Key{0, model::Mode::major};
  EXPECT_EQ(written_pitches(document_of(score)), (Pitches{"E4", "Eb4(flat)", "E4(natural)", "F4"}));
}

// A flute that lies some cents over size 8.
model::Score score_on_size_8_and(double cents, std::string_view fingerings) {
  model::Score score = fingered_score(fingerings);
  const auto raised = [&](model::Pitch& pitch) {
    pitch = model::pitch_at(pitch.total_cents() + cents);
  };
  score.flutes[0].name = model::FluteSize{8, static_cast<int>(cents)};
  raised(score.flutes[0].ichi);
  for (model::Note& note : score.notes) raised(*note.tone.pitch);
  score.header.key = model::Key{0, model::Mode::major};
  return score;
}

// Inside the bend limits a note stays on the line of its sign, in both staff modes, though its
// sound may be nearer to another semitone.
TEST(FlutesBetweenSizes, HaveTheirBendsOnTheLineOfThePlainNote) {
  const std::string fingerings = "三 三↓49 三↑30 三メ 三メ↑20 2↓49";
  for (const double cents : {-49.0, -15.0, 15.0, 49.0}) {
    SCOPED_TRACE(cents);
    model::Score score = score_on_size_8_and(cents, fingerings);
    EXPECT_EQ(written_pitches(document_of(score)),
              (Pitches{"E4", "E4", "E4", "Eb4(flat)", "Eb4(flat)", "D5"}));
    score.header.staff = model::StaffMode::sounding;
    score.header.key = model::Key{-1, model::Mode::major};
    EXPECT_EQ(written_pitches(document_of(score)),
              (Pitches{"E5", "E5", "E5", "Eb5(flat)", "Eb5(flat)", "D6"}));
  }
}

// The decimals still say what sounds.
TEST(FlutesBetweenSizes, AreExactWhereAsked) {
  model::Score score = score_on_size_8_and(40, "三 三↑30");
  MusicXmlWriteOptions options;
  options.alterations = Alterations::exact;
  EXPECT_EQ(written_pitches(document_of(score, options)), (Pitches{"E4", "E(0.3)4"}));
  score.header.staff = model::StaffMode::sounding;
  EXPECT_EQ(written_pitches(document_of(score, options)), (Pitches{"E(0.4)5", "E(0.7)5"}));
}

TEST(ExactAlterations, CarryTheCents) {
  model::Score score = fingered_score("三↓20 三メ↓20 三 一↑7");
  score.header.key = model::Key{0, model::Mode::major};
  MusicXmlWriteOptions options;
  options.alterations = Alterations::exact;
  EXPECT_EQ(written_pitches(document_of(score, options)),
            (Pitches{"E(-0.2)4", "E(-1.2)4(flat)", "E4(natural)", "C(0.07)4"}));
}

TEST(SoundingSpelling, FollowsTheKey) {
  model::Score score = fingered_score("五メ 三メ 一 七メ");
  MusicXmlWriteOptions options;
  options.staff = model::StaffMode::sounding;
  score.header.key = model::Key{2, model::Mode::major};
  EXPECT_EQ(written_pitches(document_of(score, options)),
            (Pitches{"F#5", "D#5(sharp)", "C5(natural)", "A#5(sharp)"}));
  score.header.key = model::Key{-3, model::Mode::major};
  EXPECT_EQ(written_pitches(document_of(score, options)),
            (Pitches{"Gb5(flat)", "Eb5", "C5", "Bb5"}));
}

TEST(SoundingSpelling, KeepsTheSpellingThatTheToneHas) {
  model::Score score = fingered_score("五メ 三メ 一 七");
  MusicXmlWriteOptions options;
  options.staff = model::StaffMode::sounding;
  score.header.key = model::Key{0, model::Mode::major};
  score.notes[0].tone.spelling = model::Spelling{model::Step::f, 1, 5};
  score.notes[1].tone.spelling = model::Spelling{model::Step::a, 0, 5};  // of another key
  EXPECT_EQ(written_pitches(document_of(score, options)),
            (Pitches{"F#5(sharp)", "Eb5(flat)", "C5", "B5"}));
}

TEST(Accidentals, HoldToTheEndOfTheBarOnTheirOwnLine) {
  model::Score score = fingered_score("三メ 三メ 3メ 三 三メ 三 三 三メ 三メ");
  score.header.key = model::Key{0, model::Mode::major};
  EXPECT_EQ(written_pitches(document_of(score)),
            (Pitches{"Eb4(flat)", "Eb4", "Eb5(flat)", "E4(natural)", "Eb4(flat)", "E4(natural)",
                     "E4", "Eb4(flat)", "Eb4(flat)"}));
}

TEST(Accidentals, GoOverTheBarLineWithATieOnly) {
  model::Score score = support::staff_score({2, 4}, "1 2 1");
  score.header.key = model::Key{0, model::Mode::major};
  score.notes[1].tone = support::tone_of("三メ");
  score.notes[2].tone = support::tone_of("三メ");
  EXPECT_EQ(written_pitches(document_of(score)), (Pitches{"E4", "Eb4(flat)", "Eb4", "Eb4(flat)"}));
}

TEST(Accidentals, CountForGraceNotesToo) {
  model::Score score = fingered_score("三 三メ 五 五");
  score.header.key = model::Key{0, model::Mode::major};
  score.notes[0].grace_before = {support::tone_of("三メ")};
  EXPECT_EQ(written_pitches(document_of(score)),
            (Pitches{"Eb4(flat)", "E4(natural)", "Eb4(flat)", "G4", "G4"}));
}

int best_key(const std::vector<const char*>& spellings) {
  PitchCount count;
  for (const char* spelling : spellings) {
    count.add_spelled(model::parse_spelling(spelling).value());
  }
  return count.best_key();
}

TEST(FoundKey, NeedsTheFewestAccidentals) {
  EXPECT_EQ(best_key({"C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5"}), 0);
  EXPECT_EQ(best_key({"F4", "G4", "A4", "Bb4", "C5", "D5", "E5", "F5"}), -1);
  EXPECT_EQ(best_key({"G4", "A4", "B4", "C5", "D5", "E5", "F#5", "G5"}), 1);
  EXPECT_EQ(best_key({"Eb4", "Bb4", "Ab4", "F4", "G4", "C5", "D5"}), -3);
  EXPECT_EQ(best_key({}), 0);
}

TEST(FoundKey, OfEqualsEndsOnDoOrLa) {
  // Five notes that stand in F, C and G alike.
  EXPECT_EQ(best_key({"C4", "D4", "E4", "G4", "A4"}), 0);
  EXPECT_EQ(best_key({"C4", "D4", "E4", "A4", "G4"}), 1);
  EXPECT_EQ(best_key({"C4", "A4", "E4", "G4", "D4"}), -1);
  EXPECT_EQ(best_key({"A4", "D4", "G4", "E4"}), 1);   // la of G
  EXPECT_EQ(best_key({"A4", "E4", "G4", "D4"}), -1);  // la of F rather than do of D
}

TEST(FoundKey, OfEqualsHasTheFewestSigns) {
  // The last note is neither do nor la where no accidental is needed.
  EXPECT_EQ(best_key({"A4", "F4", "E4"}), 0);
  EXPECT_EQ(best_key({"D4", "Bb4", "A4"}), -1);
}

TEST(FoundKey, StandsOnTheStaffWithoutAMode) {
  model::Score score = fingered_score("一 三メ 五 七メ 六メ 四 三メ 三メ");
  const std::string document = document_of(score);
  EXPECT_NE(document.find("<key>\n          <fifths>-3</fifths>\n        </key>"),
            std::string::npos);
  EXPECT_EQ(document.find("yubifu.key"), std::string::npos);
}

TEST(GivenKey, IsWrittenForTheFlute) {
  model::Score score = fingered_score("一 二 三 一");
  score.flutes[0] = {0, model::FluteSize{6, 0}, "6", {70, 0}, 440};
  for (model::Note& note : score.notes) note.tone.pitch->key -= 2;
  score.header.key = model::Key{-2, model::Mode::minor};
  const std::string document = document_of(score);
  EXPECT_NE(document.find("<fifths>0</fifths>\n          <mode>minor</mode>"), std::string::npos);
  EXPECT_NE(document.find("name=\"yubifu.key\">G minor<"), std::string::npos);
}

TEST(GivenKey, ChangesInsideABarAndCutsTheNoteThere) {
  model::Score score = support::staff_score({4, 4}, "1 2 1");
  model::Direction change;
  change.onset = 2;
  change.value = model::KeyChange{{-3, model::Mode::major}};
  score.directions.push_back(change);
  const std::string document = document_of(score);
  EXPECT_EQ(support::written_bars(document),
            (std::vector<std::string>{"E4:quarter, E4:quarter ~, E4:quarter, E4:quarter"}));
  EXPECT_NE(document.find("yubifu:key Eb"), std::string::npos);
  EXPECT_EQ(written_pitches(document), (Pitches{"E4", "E4", "E4", "E4(natural)"}));
}

std::string clef_of(const std::string& fingerings, const MusicXmlWriteOptions& options) {
  const std::string document = document_of(fingered_score(fingerings), options);
  return document.find("<clef-octave-change>1<") != std::string::npos ? "treble8" : "treble";
}

TEST(ClefChoice, NeedsFewerLedgerLines) {
  MusicXmlWriteOptions sounding;
  sounding.staff = model::StaffMode::sounding;
  // F5 to F6 take ledger lines from A5 on; an octave lower they take none.
  EXPECT_EQ(clef_of("四 五 六 七 1 2 3 4", sounding), "treble8");
  // C5 to F5 lie inside the staff; an octave lower C4 would take one.
  EXPECT_EQ(clef_of("一 二 三 四", sounding), "treble");
  sounding.clef = Clef::treble;
  EXPECT_EQ(clef_of("四 五 六 七 1 2 3 4", sounding), "treble");
  sounding.clef = Clef::treble8;
  EXPECT_EQ(clef_of("一 二 三 四", sounding), "treble8");
}

TEST(ClefChoice, IsPlainTrebleInC) {
  EXPECT_EQ(clef_of("8 2̇ 3̇ 4̇", {}), "treble");
}

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

// 一 二 三 一 | 二 一 一 一 with 二 as far over 一 as a flute has it; bends are told apart.
model::Score score_with_ni_at(double cents) {
  model::Score score = support::fingered_score("一 二 三 一 二↓20 一 一 一");
  for (const std::size_t note : {1u, 4u}) {
    model::Tone& tone = score.notes[note].tone;
    tone.pitch =
        model::pitch_at(score.flutes[0].ichi.total_cents() + cents + tone.fingering->bend_cents);
  }
  score.flutes[0].title = "Equal holes";
  return score;
}

// The measured pipe of seven equal holes has 二 at 152.1 cents; one tuned by fifths at 203.9.
TEST(Tempered, warns_once_of_notes_between_those_of_a_staff) {
  const auto told = tell_tempered(score_with_ni_at(152.1));
  ASSERT_THAT(told, SizeIs(1));
  EXPECT_EQ(told[0].rule, &rule::nearest_tempered);
  EXPECT_EQ(told[0].message,
            "the flute Equal holes plays notes between those of a staff, which shows the nearest "
            "tempered ones; its fingering is what counts: bars 1, 2");
  EXPECT_THAT(told[0].measures, ElementsAre("1", "2"));
  EXPECT_THAT(tell_tempered(score_with_ni_at(203.9)), IsEmpty());
  EXPECT_THAT(tell_tempered(score_with_ni_at(200)), IsEmpty());
}

TEST(Tempered, does_not_mind_a_flute_that_lies_higher_as_a_whole) {
  model::Score score = score_with_ni_at(200);
  score.flutes[0].ichi = model::pitch_at(score.flutes[0].ichi.total_cents() + 40);
  for (model::Note& note : score.notes) {
    note.tone.pitch = model::pitch_at(note.tone.pitch->total_cents() + 40);
  }
  EXPECT_THAT(tell_tempered(score), IsEmpty());
}

TEST(Tempered, is_told_by_the_writer_unless_it_writes_the_decimals) {
  MusicXmlWriteOptions options;
  const auto whole = write_musicxml(score_with_ni_at(152.1), options);
  ASSERT_THAT(whole.diagnostics, SizeIs(1));
  EXPECT_EQ(whole.diagnostics[0].rule, &rule::nearest_tempered);
  options.alterations = Alterations::exact;
  options.staff = model::StaffMode::sounding;
  const auto exact = write_musicxml(score_with_ni_at(152.1), options);
  EXPECT_THAT(exact.diagnostics, IsEmpty());
  // 52 cents over C♯ or 48 under D: 一 is C5 on size 8.
  EXPECT_NE(exact.value->find("<alter>-0.47"), std::string::npos);
}

}  // namespace
}  // namespace yubifu::musicxml
