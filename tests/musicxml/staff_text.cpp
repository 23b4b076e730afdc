#include "musicxml/staff_text.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "base/source_text.h"
#include "fingering/resolve.h"
#include "model/words.h"
#include "support/invariants.h"
#include "support/text.h"

namespace yubifu::musicxml {
namespace {

std::string pitch_element(std::string_view text) {
  const auto spelling = model::parse_spelling(text);
  EXPECT_TRUE(spelling) << text;
  const std::string alter =
      spelling->alter == 0 ? std::string() : fmt::format("<alter>{}</alter>", spelling->alter);
  return fmt::format("<pitch><step>{}</step>{}<octave>{}</octave></pitch>",
                     model::letter(spelling->step), alter, spelling->octave);
}

std::string joined(const std::vector<std::string>& items, std::string_view separator) {
  std::string out;
  for (const std::string& item : items) {
    if (!out.empty()) out += separator;
    out += item;
  }
  return out;
}

std::string told(const base::Diagnostic& diagnostic) {
  return fmt::format("{} {}: {}", name(diagnostic.severity), diagnostic.rule->name,
                     diagnostic.message);
}

struct DirectionWords {
  std::string operator()(const model::TempoChange& change) const {
    return "tempo " + to_text(change.tempo, 1);
  }
  std::string operator()(const model::BeatChange& change) const {
    return "beat " + model::beat_text(change.beat);
  }
  std::string operator()(const model::KeyChange& change) const {
    return "key " + to_text(change.key);
  }
  std::string operator()(const model::FluteChange& change) const {
    return "flute " + to_text(change.flute);
  }
  std::string operator()(const model::SectionStart& section) const {
    return "section " + section.name;
  }
  std::string operator()(const model::TextDirection& text) const { return "text " + text.text; }
  std::string operator()(const model::Dynamic& dynamic) const { return "dyn " + dynamic.level; }
  std::string operator()(model::Cue cue) const { return std::string(model::word_of(cue)); }
};

}  // namespace

std::string document(std::string_view parts) {
  return fmt::format("<?xml version=\"1.0\"?>\n<score-partwise>\n{}</score-partwise>\n", parts);
}

std::string one_part(std::string_view measures) {
  return document(
      fmt::format("<part-list><score-part id=\"P1\"><part-name>Flute</part-name></score-part>"
                  "</part-list>\n<part id=\"P1\">\n{}</part>\n",
                  measures));
}

std::string measure(std::string_view number, std::string_view content) {
  return fmt::format("<measure number=\"{}\">\n{}</measure>\n", number, content);
}

std::string attributes(int divisions, std::string_view meter) {
  const std::size_t slash = meter.find('/');
  return fmt::format(
      "<attributes><divisions>{}</divisions><time><beats>{}</beats><beat-type>{}</beat-type>"
      "</time></attributes>\n",
      divisions, meter.substr(0, slash), meter.substr(slash + 1));
}

std::string one_bar(std::string_view content) {
  return one_part(measure("1", attributes(2, "4/4") + std::string(content)));
}

std::string note(std::string_view pitch, int duration, std::string_view rest) {
  return note_with("", pitch, duration, rest);
}

std::string note_with(std::string_view before, std::string_view pitch, int duration,
                      std::string_view rest) {
  return fmt::format("<note>{}{}<duration>{}</duration>{}</note>\n", before, pitch_element(pitch),
                     duration, rest);
}

std::string grace(std::string_view pitch, std::string_view attributes) {
  return fmt::format("<note><grace {}/>{}</note>\n", attributes, pitch_element(pitch));
}

std::string rest(int duration, std::string_view rest) {
  return fmt::format("<note><rest/><duration>{}</duration>{}</note>\n", duration, rest);
}

std::string lyric(std::string_view number, std::string_view syllabic, std::string_view text) {
  return fmt::format("<lyric number=\"{}\"><syllabic>{}</syllabic><text>{}</text></lyric>", number,
                     syllabic, text);
}

Reading read(const std::string& text, const MusicXmlReadOptions& options) {
  const base::SourceText source("staff.musicxml", text);
  base::Outcome<model::Score> outcome = read_musicxml(source, options);
  Reading reading;
  for (const base::Diagnostic& diagnostic : outcome.diagnostics) {
    reading.remarks.push_back(told(diagnostic));
  }
  reading.diagnostics = std::move(outcome.diagnostics);
  EXPECT_TRUE(outcome.value) << joined(reading.remarks, "\n");
  if (!outcome.value) return reading;
  reading.score = *std::move(outcome.value);
  EXPECT_EQ(joined(support::broken_invariants(reading.score), "\n"), "");
  return reading;
}

std::string refusal(const std::string& text, const MusicXmlReadOptions& options) {
  const base::SourceText source("staff.musicxml", text);
  const base::Outcome<model::Score> outcome = read_musicxml(source, options);
  EXPECT_FALSE(outcome.value);
  EXPECT_EQ(outcome.diagnostics.size(), 1u);
  if (outcome.diagnostics.empty()) return {};
  const base::Diagnostic& diagnostic = outcome.diagnostics.front();
  EXPECT_EQ(diagnostic.severity, base::Severity::error);
  std::string place = "-";
  if (diagnostic.where) {
    const base::Position at = source.position(diagnostic.where->begin);
    place = fmt::format("{}:{}", at.line, at.column);
  }
  return fmt::format("{} {}: {}", place, diagnostic.rule->name, diagnostic.message);
}

std::string melody(const model::Score& score) {
  std::vector<std::string> bars(score.measures.size());
  for (const model::Note& note : score.notes) {
    std::string& bar = bars[note.measure];
    if (!bar.empty()) bar += ", ";
    bar += to_text(note.onset) + " " + to_text(*note.tone.spelling);
    if (note.tone.pitch->cents != 0) bar += fmt::format("{:+g}", note.tone.pitch->cents);
    bar += " " + to_text(note.duration);
    EXPECT_EQ(model::midi_key(*note.tone.spelling), note.tone.pitch->key);
  }
  return joined(bars, " | ");
}

std::string lengths(const model::Score& score) {
  std::vector<std::string> list;
  for (const model::Measure& measure : score.measures) {
    list.push_back(to_text(measure.length) + (measure.irregular ? "!" : ""));
  }
  return joined(list, " ");
}

std::string directions(const model::Score& score) {
  std::vector<std::string> list;
  for (const model::Direction& direction : score.directions) {
    list.push_back(fmt::format("{}:{} {}", direction.measure + 1, to_text(direction.onset),
                               std::visit(DirectionWords{}, direction.value)));
  }
  return joined(list, ", ");
}

std::string fingerings(const model::Score& score) {
  std::vector<std::string> list;
  for (const model::Note& note : score.notes) {
    const auto& fingering = note.tone.fingering;
    if (!fingering) {
      list.push_back("-");
    } else if (fingering->is_gap()) {
      const std::string bend =
          fingering->bend_cents == 0 ? "" : fmt::format("{:+}", fingering->bend_cents);
      list.push_back("?" + to_text(*note.tone.spelling) + bend);
    } else {
      list.push_back(printed(*fingering));
    }
  }
  return joined(list, " ");
}

std::string verse(const model::Score& score, std::string_view name) {
  std::vector<std::string> list;
  for (const model::Note& note : score.notes) {
    const auto found =
        std::find_if(note.syllables.begin(), note.syllables.end(),
                     [&](const model::Syllable& syllable) { return syllable.verse == name; });
    if (found == note.syllables.end()) {
      list.push_back("/");
    } else if (found->extends) {
      list.push_back("~");
    } else {
      const bool goes_on =
          found->kind == model::SyllableKind::begin || found->kind == model::SyllableKind::middle;
      list.push_back(found->text + (goes_on ? "-" : ""));
    }
  }
  return joined(list, " ");
}

Annotated annotated_with_findings(const std::string& bytes, const AnnotateOptions& options,
                                  model::FluteSize flute, const MusicXmlReadOptions& reading) {
  Annotated result;
  const base::Outcome<BareFile> file = open_bare(bytes);
  result.rules = support::rule_names(file.diagnostics);
  if (!file.value) return result;
  MusicXmlReadOptions without_fingering = reading;
  without_fingering.read_fingering = Annotation::none;
  const base::SourceText source("staff.musicxml", file.value->document.text);
  base::Outcome<model::Score> score = read_musicxml(source, without_fingering);
  EXPECT_TRUE(score.ok()) << bytes;
  if (!score.ok()) return result;
  fingering::ResolveOptions resolve;
  resolve.origin = fingering::Origin::staff;
  resolve.flute = flute;
  if (options.octaves != 0) resolve.octave = options.octaves;
  const auto resolved = fingering::resolve(*std::move(score.value), resolve);
  EXPECT_TRUE(resolved.value);
  const base::Outcome<std::string> written = annotate(*file.value, resolved.value->score, options);
  for (std::string& name : support::rule_names(written.diagnostics)) {
    result.rules.push_back(std::move(name));
  }
  result.bytes = written.value.value_or(std::string());
  return result;
}

std::string annotated(const std::string& bytes, const AnnotateOptions& options,
                      model::FluteSize flute, const MusicXmlReadOptions& reading) {
  Annotated result = annotated_with_findings(bytes, options, flute, reading);
  EXPECT_NE(result.bytes, "") << testing::PrintToString(result.rules) << "\n" << bytes;
  return std::move(result.bytes);
}

std::string bare(const std::string& bytes) {
  const base::Outcome<BareFile> file = open_bare(bytes);
  EXPECT_TRUE(file.ok());
  if (!file.ok()) return {};
  const base::Outcome<std::string> written = bytes_of(*file.value);
  EXPECT_TRUE(written.ok());
  return written.value.value_or(std::string());
}

}  // namespace yubifu::musicxml
