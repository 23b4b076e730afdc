// Fingering text to other formats and back: nothing that the writer does not tell of is lost.
#include <algorithm>

#include "fuzz/checks.h"
#include "midi/read/reader.h"
#include "midi/write/tick_grid.h"
#include "midi/write/writer.h"
#include "model/play_out.h"
#include "musicxml/read/reader.h"
#include "musicxml/write/writer.h"
#include "notation/read/reader.h"
#include "notation/write/writer.h"
#include "support/same_music.h"

namespace {

using namespace yubifu;

bool tells_of_a_loss(const base::Diagnostics& findings) {
  return std::any_of(findings.begin(), findings.end(), [](const base::Diagnostic& finding) {
    return finding.severity != base::Severity::note;
  });
}

// What a staff file holds of a text: all but comments and line breaks.
std::string text_of(model::Score score) {
  score.header.comments.clear();
  for (model::Measure& measure : score.measures) {
    measure.comments.clear();
    measure.break_before = model::LineBreak::none;
  }
  return notation::write_notation(score, {}).value.value_or("");
}

void check_staff(const model::Score& score) {
  const auto staff = musicxml::write_musicxml(score, {});
  if (!staff.ok() || tells_of_a_loss(staff.diagnostics)) return;
  const auto read = musicxml::read_musicxml({"", *staff.value}, {});
  fuzz::require(read.ok(), "our staff file is read");
  const auto difference = support::first_difference(score, *read.value);
  fuzz::require(!difference, difference.value_or(""));
  fuzz::require(text_of(score) == text_of(*read.value), "the text comes back from the staff");
}

void check_sound(const model::Score& score) {
  const auto has_graces = [](const model::Note& note) {
    return !note.grace_before.empty() || !note.grace_after.empty();
  };
  if (std::any_of(score.notes.begin(), score.notes.end(), has_graces)) return;
  const auto played = model::play_out(score);
  if (!played.ok() || played.value->score.notes.empty()) return;
  const auto sound = midi::write_midi(score, {});
  if (!sound.ok() || tells_of_a_loss(sound.diagnostics)) return;
  if (!midi::choose_grid(played.value->score, {}).exact) return;
  const auto read = midi::read_midi(*sound.value, {});
  fuzz::require(read.ok(), "our MIDI file is read");
  const auto difference = support::first_difference(played.value->score, *read.value,
                                                    support::Sameness::pitch_and_time);
  fuzz::require(!difference, difference.value_or(""));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto read = notation::read_notation({"", fuzz::bytes_of(data, size)});
  if (!read.ok() || read.value->measures.size() > 60) return 0;
  const auto resolved = fingering::resolve(*read.value, {});
  if (!resolved.ok()) return 0;
  check_staff(resolved.value->score);
  const auto order = model::played_order(resolved.value->score);
  if (order.ok() && order.value->size() <= 500) check_sound(resolved.value->score);
  return 0;
}
