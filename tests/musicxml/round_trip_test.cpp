// What the writer puts into a staff file, the reader finds there again: partwise and timewise,
// plain and compressed.
#include <cmath>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <gtest/gtest.h>
#include <pugixml.hpp>

#include "base/source_text.h"
#include "fingering/resolve.h"
#include "musicxml/read/reader.h"
#include "musicxml/write/writer.h"
#include "musicxml/xml/container.h"
#include "musicxml/xml/document_text.h"
#include "support/invariants.h"
#include "support/rounds.h"
#include "support/same_music.h"
#include "support/score_generator.h"
#include "support/text.h"

namespace yubifu::musicxml {
namespace {

void copy_attributes(pugi::xml_node from, pugi::xml_node to) {
  for (const pugi::xml_attribute attribute : from.attributes()) to.append_copy(attribute);
}

// The same score with its measures outside and its parts inside, as the format's own stylesheet
// does it. The text must be well-formed and its parts must have the same number of measures.
std::string timewise_text(const std::string& partwise) {
  pugi::xml_document from;
  from.load_buffer(partwise.data(), partwise.size());
  const pugi::xml_node old_root = from.document_element();
  pugi::xml_document to;
  pugi::xml_node root = to.append_child("score-timewise");
  copy_attributes(old_root, root);
  std::vector<pugi::xml_node> measures;
  for (const pugi::xml_node child : old_root.children()) {
    if (std::string_view(child.name()) != "part") {
      root.append_copy(child);
      continue;
    }
    std::size_t index = 0;
    for (const pugi::xml_node measure : child.children("measure")) {
      if (index == measures.size()) {
        measures.push_back(root.append_child("measure"));
        copy_attributes(measure, measures.back());
      }
      pugi::xml_node part = measures[index++].append_child("part");
      copy_attributes(child, part);
      for (const pugi::xml_node content : measure.children()) part.append_copy(content);
    }
  }
  std::ostringstream out;
  to.save(out, " ", pugi::format_default, pugi::encoding_utf8);
  return out.str();
}

using model::StaffMode;
using support::Sameness;

const std::uint64_t kScores = support::rounds(300);

// A sign that the flute does not have sounds nothing; any pitch will do for the staff.
void give_pitch(model::Tone& tone) {
  if (!tone.pitch) tone.pitch = model::Pitch{79, 0};
}

// A random score with a pitch for every tone.
model::Score resolved_score(std::uint64_t seed) {
  base::Outcome<fingering::Resolved> resolved =
      fingering::resolve(support::random_score(seed), fingering::ResolveOptions{});
  model::Score score = std::move(resolved.value.value().score);
  for (model::Note& note : score.notes) {
    give_pitch(note.tone);
    for (model::Tone& grace : note.grace_before) give_pitch(grace);
    for (model::Tone& grace : note.grace_after) give_pitch(grace);
  }
  return score;
}

struct Case {
  Annotation annotation;
  StaffMode staff;
};

std::string case_name(const Case& value) {
  std::string name(annotation_name(value.annotation));
  for (char& c : name) c = c == '-' ? '_' : c;
  return name + (value.staff == StaffMode::in_c ? "_in_c" : "_sounding");
}

class RoundTrip : public testing::TestWithParam<Case> {};

// What a staff without annotation can say of a tone: whole semitones, or with exact alterations
// also what lies off the flute's own notes. Semitones count from the flute's 一, as bends do; a
// pitch in the middle of two, as a gap is on a half size, is the one that sounds.
void make_plain(model::Tone& tone, double flute_cents, StaffMode staff, Alterations alterations) {
  model::Pitch& pitch = *tone.pitch;
  const double size_cents = pitch.total_cents() - flute_cents;
  const double whole_from = staff == StaffMode::in_c ? size_cents : pitch.total_cents();
  tone.fingering.reset();
  if (alterations == Alterations::exact && std::abs(std::remainder(whole_from, 100)) >= 0.01)
    return;
  if (std::abs(size_cents - 100 * pitch.key) > 50.01) pitch.key = model::pitch_at(size_cents).key;
  pitch.cents = 0;
}

model::Score without_fingering(model::Score score, StaffMode staff, Alterations alterations) {
  auto flute = score.flutes.begin();
  for (model::Note& note : score.notes) {
    while (flute + 1 != score.flutes.end() && (flute + 1)->measure <= note.measure) ++flute;
    const double cents = flute->ichi.cents;
    make_plain(note.tone, cents, staff, alterations);
    for (model::Tone& grace : note.grace_before) make_plain(grace, cents, staff, alterations);
    for (model::Tone& grace : note.grace_after) make_plain(grace, cents, staff, alterations);
  }
  return score;
}

// Compressed, timewise, or both.
std::string in_another_form(const std::string& text, std::uint64_t seed) {
  const std::string turned = seed % 3 == 0 ? text : timewise_text(text);
  return seed % 3 == 1 ? turned : make_container(turned).value.value();
}

void expect_same_score(const std::string& bytes, const model::Score& score, Sameness sameness) {
  const base::Outcome<std::string> text = xml_text(bytes);
  ASSERT_TRUE(text.ok());
  const base::SourceText source("staff.musicxml", *text.value);
  const base::Outcome<model::Score> read = read_musicxml(source, {});
  ASSERT_TRUE(read.value);
  EXPECT_EQ(support::short_forms(read.diagnostics, source), std::vector<std::string>{});
  EXPECT_EQ(support::broken_invariants(*read.value), std::vector<std::string>{});
  const auto difference = support::first_difference(score, *read.value, sameness);
  EXPECT_FALSE(difference) << *difference << "\n" << *text.value;
}

TEST_P(RoundTrip, GivesTheSameScore) {
  MusicXmlWriteOptions write;
  write.annotation = GetParam().annotation;
  for (std::uint64_t seed = 1; seed <= kScores; ++seed) {
    SCOPED_TRACE(seed);
    write.strokes = seed % 3 == 0;
    write.holes = seed % 4 == 0;
    write.alterations = seed % 5 == 0 ? Alterations::exact : Alterations::whole;
    model::Score score = resolved_score(seed);
    score.header.staff = GetParam().staff;
    const base::Outcome<std::string> text = write_musicxml(score, write);
    if (!text.ok()) continue;  // a random bar may be too fine to be written
    const bool plain = write.annotation == Annotation::none;
    if (plain) score = without_fingering(score, GetParam().staff, write.alterations);
    const Sameness sameness = plain ? Sameness::pitch_and_time : Sameness::everything;
    expect_same_score(*text.value, score, sameness);
    expect_same_score(in_another_form(*text.value, seed), score, sameness);
    if (HasFailure()) return;
  }
}

INSTANTIATE_TEST_SUITE_P(EveryKind, RoundTrip,
                         testing::Values(Case{Annotation::lyric, StaffMode::in_c},
                                         Case{Annotation::lyric, StaffMode::sounding},
                                         Case{Annotation::lyric_above, StaffMode::in_c},
                                         Case{Annotation::lyric_above, StaffMode::sounding},
                                         Case{Annotation::technical, StaffMode::in_c},
                                         Case{Annotation::technical, StaffMode::sounding},
                                         Case{Annotation::words, StaffMode::in_c},
                                         Case{Annotation::words, StaffMode::sounding},
                                         Case{Annotation::none, StaffMode::in_c},
                                         Case{Annotation::none, StaffMode::sounding}),
                         [](const auto& param) { return case_name(param.param); });

}  // namespace
}  // namespace yubifu::musicxml
