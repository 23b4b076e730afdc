// Flutes that follow no Western scale, written on a staff.
#include <gmock/gmock.h>

#include "musicxml/rules.h"
#include "musicxml/tempered.h"
#include "musicxml/writer.h"
#include "staff_score.h"

namespace yubifu::musicxml {
namespace {

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
