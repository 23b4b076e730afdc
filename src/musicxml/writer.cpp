#include "musicxml/writer.h"

#include <algorithm>
#include <string>

#include "base/message.h"
#include "musicxml/element_writer.h"
#include "musicxml/header_writer.h"
#include "musicxml/part_writer.h"
#include "musicxml/score_layout.h"
#include "musicxml/staff_plan.h"
#include "musicxml/tempered.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/writing_rules.h"

namespace yubifu::musicxml {
namespace {

using base::Diagnostics;
using model::Note;

// What one note and one bar take in the document, on the large side.
constexpr std::size_t kBytesOfNote = 512;
constexpr std::size_t kBytesOfBar = 256;

// MusicXML's octave element goes from 0 to 9.
constexpr int kLowestKey = 12;
constexpr int kHighestKey = 131;

void report_at(Diagnostics& to, const model::Score& score, const base::Rule& rule, const Note& note,
               std::string message, std::string hint) {
  base::Diagnostic diagnostic =
      base::report(rule, note.source, std::move(message), std::move(hint));
  diagnostic.measures = {model::measure_name(score, note.measure)};
  to.push_back(std::move(diagnostic));
}

// Calls `check` with the note's own tone and its grace notes.
template <typename Check>
bool all_tones(const Note& note, const Check& check) {
  return check(note.tone) &&
         std::all_of(note.grace_before.begin(), note.grace_before.end(), check) &&
         std::all_of(note.grace_after.begin(), note.grace_after.end(), check);
}

// Whether the score can be written at all.
Diagnostics check_resolved(const model::Score& score) {
  Diagnostics diagnostics;
  if (score.measures.empty()) {
    diagnostics.push_back(base::report(rule::no_bars, std::nullopt,
                                       base::message("the score has no bar to write on a staff"),
                                       base::message("write at least one bar of rest")));
  }
  if (score.flutes.empty()) {
    diagnostics.push_back(base::report(rule::no_flute_in_use, std::nullopt,
                                       base::message("the flute of the score is not known"),
                                       base::message("resolve the score for a flute first")));
  }
  for (const Note& note : score.notes) {
    const auto pitched = [](const model::Tone& tone) { return tone.pitch.has_value(); };
    if (all_tones(note, pitched)) continue;
    report_at(
        diagnostics, score, rule::no_pitch, note,
        base::message("a note in bar {} has no pitch", model::measure_name(score, note.measure)),
        base::message("resolve the score for a flute first"));
    break;
  }
  return diagnostics;
}

// The notes must lie in the octaves that the format has.
void check_octaves(const model::Score& score, const StaffPlan& plan, Diagnostics& diagnostics) {
  StaffState staff(score, plan);
  auto change = score.flutes.begin();
  for (const Note& note : score.notes) {
    for (; change != score.flutes.end() && change->measure <= note.measure; ++change) {
      staff.change_flute(change->measure);
    }
    const auto fits = [&](const model::Tone& tone) {
      const int key = staff.key_of(tone);
      return key >= kLowestKey && key <= kHighestKey;
    };
    if (all_tones(note, fits)) continue;
    report_at(diagnostics, score, rule::outside_staff, note,
              base::message("a note in bar {} lies outside the octaves of a staff file",
                            model::measure_name(score, note.measure)),
              base::message("choose another octave or flute"));
    return;
  }
}

void note_comments(const model::Score& score, Diagnostics& diagnostics) {
  std::size_t count = score.header.comments.size();
  for (const model::Measure& measure : score.measures) count += measure.comments.size();
  if (count == 0) return;
  diagnostics.push_back(base::report(
      rule::comments_left_out, std::nullopt,
      count == 1
          ? base::message("1 comment is left out: a staff file has no place for it")
          : base::message("{} comments are left out: a staff file has no place for them", count)));
}

std::string write_document(const model::Score& score, const MusicXmlWriteOptions& options,
                           const StaffPlan& plan, const ScoreLayout& layout,
                           Diagnostics& diagnostics) {
  ElementWriter out(score.notes.size() * kBytesOfNote + score.measures.size() * kBytesOfBar);
  const WriterContext context{score, options, out, layout.divisions};
  write_document_start(context);
  out.open("part");
  out.attribute("id", kPartId);
  PartWriter part(context, plan);
  for (std::size_t measure = 0; measure < score.measures.size(); ++measure) {
    part.write_bar(measure, layout.contents[measure], layout.of(measure));
  }
  out.close();
  out.close();
  if (out.replaced() > 0) {
    diagnostics.push_back(base::report(
        rule::characters_replaced, std::nullopt,
        base::message("characters replaced, for XML cannot hold control characters: {}",
                      out.replaced())));
  }
  return out.take();
}

}  // namespace

base::Outcome<std::string> write_musicxml(const model::Score& score,
                                          const MusicXmlWriteOptions& options) {
  base::Outcome<std::string> outcome;
  outcome.diagnostics = check_resolved(score);
  if (base::has_errors(outcome.diagnostics)) return outcome;
  const StaffPlan plan = plan_staff(score, options);
  check_octaves(score, plan, outcome.diagnostics);
  if (base::has_errors(outcome.diagnostics)) return outcome;
  const ScoreLayout layout = lay_out_score(score, outcome.diagnostics);
  if (base::has_errors(outcome.diagnostics)) return outcome;
  note_comments(score, outcome.diagnostics);
  if (options.alterations == Alterations::whole) {
    base::append(outcome.diagnostics, tell_tempered(score));
  }
  outcome.value = write_document(score, options, plan, layout, outcome.diagnostics);
  return outcome;
}

}  // namespace yubifu::musicxml
