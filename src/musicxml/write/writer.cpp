#include "musicxml/write/writer.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/message.h"
#include "model/header.h"
#include "model/strokes.h"
#include "model/words.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/write/part_writer.h"
#include "musicxml/write/score_layout.h"
#include "musicxml/write/staff_plan.h"

namespace yubifu::musicxml {
namespace {

// The one part's id.
constexpr std::string_view kPartId = "P1";

constexpr std::string_view kInstrumentId = "P1-I1";
constexpr std::int64_t kMidiChannel = 1;
constexpr std::int64_t kMidiProgram = 74;  // flute: General MIDI 1, counted from 1

class HeaderWriter {
 public:
  explicit HeaderWriter(const WriterContext& context)
      : context_(context), out_(context.out), header_(context.score.header) {}

  void write() {
    out_.raw_line("<?xml version=\"1.0\" encoding=\"UTF-8\"?>");
    out_.raw_line(
        "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
        "\"http://www.musicxml.org/dtds/partwise.dtd\">");
    out_.open("score-partwise");
    out_.attribute("version", "4.0");
    write_titles();
    out_.open("identification");
    write_creators();
    write_encoding();
    if (!header_.source.empty()) out_.text("source", header_.source);
    write_fields();
    out_.close();
    write_credits();
    write_part_list();
  }

 private:
  void write_titles() {
    if (header_.title.empty()) return;
    out_.open("work");
    out_.text("work-title", header_.title);
    out_.close();
  }

  void write_creators() {
    write_creator("composer", header_.composer);
    write_creator("lyricist", header_.lyricist);
    if (!header_.rights.empty()) out_.text("rights", header_.rights);
  }

  void write_creator(std::string_view type, const std::string& name) {
    if (name.empty()) return;
    out_.open("creator");
    out_.attribute("type", type);
    out_.close_with_text(name);
  }

  // What readers may rely on; see the supports element.
  void write_encoding() {
    out_.open("encoding");
    out_.text("software", "yubifu");
    for (const std::string_view element : {"accidental", "beam"}) {
      out_.open("supports");
      out_.attribute("element", element);
      out_.attribute("type", "yes");
      out_.close();
    }
    out_.open("supports");
    out_.attribute("attribute", "new-system");
    out_.attribute("element", "print");
    out_.attribute("type", "yes");
    out_.attribute("value", "yes");
    out_.close();
    out_.close();
  }

  void write_fields() {
    out_.open("miscellaneous");
    write_field(field::kVersion, "1");
    write_field(field::kFingering, annotation_name(context_.options.annotation));
    for (const model::HeaderKey key : field::kKept) {
      if (const auto value = kept_text(key)) {
        write_field(fmt::format("{}{}", field::kPrefix, word_of(key)), *value);
      }
    }
    for (const model::HeaderField& unknown : header_.unknown) {
      write_field(fmt::format("{}{}", field::kUnknownPrefix, unknown.key), unknown.value);
    }
    out_.close();
  }

  // A choice made for this export is remembered as if the header had made it.
  std::optional<std::string> kept_text(model::HeaderKey key) const {
    const auto& asked = context_.options.staff;
    if (key == model::HeaderKey::staff && asked) return std::string(model::word_of(*asked));
    return model::field_text(header_, key);
  }

  // Programs print the title and the creators by themselves, but a subtitle only as a credit, and
  // where there is one credit they print no others than credits.
  void write_credits() {
    if (header_.subtitle.empty()) return;
    write_credit("title", "center", header_.title);
    write_credit("subtitle", "center", header_.subtitle);
    write_credit("composer", "right", header_.composer);
    write_credit("lyricist", "left", header_.lyricist);
  }

  void write_credit(std::string_view type, std::string_view justify, const std::string& words) {
    if (words.empty()) return;
    out_.open("credit");
    out_.attribute("page", std::int64_t{1});
    out_.text("credit-type", type);
    out_.open("credit-words");
    out_.attribute("justify", justify);
    out_.attribute("valign", "top");
    out_.close_with_text(words);
    out_.close();
  }

  void write_field(std::string_view name, std::string_view value) {
    out_.open("miscellaneous-field");
    out_.attribute("name", name);
    out_.close_with_text(value);
  }

  void write_part_list() {
    out_.open("part-list");
    out_.open("score-part");
    out_.attribute("id", kPartId);
    out_.text("part-name", kPartName);
    out_.open("score-instrument");
    out_.attribute("id", kInstrumentId);
    out_.text("instrument-name", kPartName);
    out_.text("instrument-sound", kInstrumentSound);
    out_.close();
    out_.open("midi-instrument");
    out_.attribute("id", kInstrumentId);
    out_.number("midi-channel", kMidiChannel);
    out_.number("midi-program", kMidiProgram);
    out_.close();
    out_.close();
    out_.close();
  }

  const WriterContext& context_;
  base::XmlWriter& out_;
  const model::Header& header_;
};

// Declaration, DOCTYPE and the elements up to `<part>`; opens the root element.
void write_document_start(const WriterContext& context) {
  HeaderWriter(context).write();
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
