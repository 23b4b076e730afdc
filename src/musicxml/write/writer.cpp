#include "musicxml/write/writer.h"

#include <fmt/format.h>

#include "base/message.h"
#include "model/header.h"
#include "model/strokes.h"
#include "model/words.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/write/note_writer.h"
#include "musicxml/write/score_layout.h"
#include "musicxml/write/staff_plan.h"

namespace yubifu::musicxml {
namespace {

// The one part's id.
constexpr std::string_view kPartId = "P1";

constexpr std::string_view kPartName = "Shinobue";
constexpr std::string_view kInstrumentId = "P1-I1";
constexpr std::string_view kInstrumentSound = "wind.flutes.shinobue";
constexpr std::int64_t kMidiChannel = 1;
constexpr std::int64_t kMidiProgram = 74;  // flute: General MIDI 1, counted from 1

void write_creator(base::XmlWriter& out, std::string_view type, const std::string& name) {
  if (!name.empty()) write_element(out, "creator", {{"type", type}}, name);
}

// What readers may rely on; see the supports element.
void write_encoding(base::XmlWriter& out) {
  out.open("encoding");
  out.text("software", "yubifu");
  for (const std::string_view element : {"accidental", "beam"}) {
    write_element(out, "supports", {{"element", element}, {"type", "yes"}});
  }
  write_element(
      out, "supports",
      {{"attribute", "new-system"}, {"element", "print"}, {"type", "yes"}, {"value", "yes"}});
  out.close();
}

void write_fields(const WriterContext& context) {
  const model::Header& header = context.score.header;
  const auto write_field = [&](std::string_view name, std::string_view value) {
    write_element(context.out, "miscellaneous-field", {{"name", name}}, value);
  };
  context.out.open("miscellaneous");
  write_field(field::kVersion, "1");
  write_field(field::kFingering, annotation_name(context.options.annotation));
  for (const model::HeaderKey key : field::kKept) {
    // A choice made for this export is remembered as if the header had made it.
    const auto& asked = context.options.staff;
    const auto value = key == model::HeaderKey::staff && asked ? std::string(model::word_of(*asked))
                                                               : model::field_text(header, key);
    if (value) write_field(fmt::format("{}{}", field::kPrefix, word_of(key)), *value);
  }
  for (const model::HeaderField& unknown : header.unknown) {
    write_field(fmt::format("{}{}", field::kUnknownPrefix, unknown.key), unknown.value);
  }
  context.out.close();
}

void write_credit(base::XmlWriter& out, std::string_view type, std::string_view justify,
                  const std::string& words) {
  if (words.empty()) return;
  open_element(out, "credit", {{"page", "1"}});
  out.text("credit-type", type);
  write_element(out, "credit-words", {{"justify", justify}, {"valign", "top"}}, words);
  out.close();
}

void write_part_list(base::XmlWriter& out) {
  out.open("part-list");
  open_element(out, "score-part", {{"id", kPartId}});
  out.text("part-name", kPartName);
  open_element(out, "score-instrument", {{"id", kInstrumentId}});
  out.text("instrument-name", kPartName);
  out.text("instrument-sound", kInstrumentSound);
  out.close();
  open_element(out, "midi-instrument", {{"id", kInstrumentId}});
  out.number("midi-channel", kMidiChannel);
  out.number("midi-program", kMidiProgram);
  out.close();
  out.close();
  out.close();
}

// Declaration, DOCTYPE and the elements up to `<part>`; opens the root element.
void write_document_start(const WriterContext& context) {
  base::XmlWriter& out = context.out;
  const model::Header& header = context.score.header;
  out.raw_line("<?xml version=\"1.0\" encoding=\"UTF-8\"?>");
  out.raw_line(
      "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
      "\"http://www.musicxml.org/dtds/partwise.dtd\">");
  open_element(out, "score-partwise", {{"version", "4.0"}});
  if (!header.title.empty()) {
    out.open("work");
    out.text("work-title", header.title);
    out.close();
  }
  out.open("identification");
  write_creator(out, "composer", header.composer);
  write_creator(out, "lyricist", header.lyricist);
  if (!header.rights.empty()) out.text("rights", header.rights);
  write_encoding(out);
  if (!header.source.empty()) out.text("source", header.source);
  write_fields(context);
  out.close();
  // Programs print the title and the creators by themselves, but a subtitle only as a credit, and
  // where there is one credit they print no others than credits.
  if (!header.subtitle.empty()) {
    write_credit(out, "title", "center", header.title);
    write_credit(out, "subtitle", "center", header.subtitle);
    write_credit(out, "composer", "right", header.composer);
    write_credit(out, "lyricist", "left", header.lyricist);
  }
  write_part_list(out);
}

using base::Diagnostics;
using model::Note;

// What one note and one bar take in the document, on the large side.
constexpr std::size_t kBytesOfNote = 512;
constexpr std::size_t kBytesOfBar = 256;

// MusicXML's octave element goes from 0 to 9.
constexpr int kLowestKey = 12;
constexpr int kHighestKey = 131;

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
    if (model::all_tones(note, pitched)) continue;
    const std::string bar = model::measure_name(score, note.measure);
    diagnostics.push_back(base::report(
        rule::no_pitch, note.source, base::message("a note in bar {} has no pitch", bar),
        base::message("resolve the score for a flute first"), {bar}));
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
    if (model::all_tones(note, fits)) continue;
    const std::string bar = model::measure_name(score, note.measure);
    diagnostics.push_back(base::report(
        rule::outside_staff, note.source,
        base::message("a note in bar {} lies outside the octaves of a staff file", bar),
        base::message("choose another octave or flute"), {bar}));
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
  base::XmlWriter out(score.notes.size() * kBytesOfNote + score.measures.size() * kBytesOfBar);
  const WriterContext context{
      score, options, out, layout.divisions,
      options.strokes ? model::stroke_texts(score) : std::vector<std::string>()};
  write_document_start(context);
  open_element(out, "part", {{"id", kPartId}});
  write_bars(context, plan, layout);
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
  base::Outcome<std::string> outcome{std::nullopt, check_resolved(score)};
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
