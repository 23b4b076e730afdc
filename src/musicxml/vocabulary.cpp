#include "musicxml/vocabulary.h"

#include <algorithm>
#include <array>
#include <string>

#include "base/utf8.h"
#include "base/word_table.h"
#include "musicxml/xml/xml_scanner.h"

namespace yubifu::musicxml {
namespace {

using model::Cue;
using model::Mark;
using model::Rational;

constexpr auto kAnnotations = base::word_table<Annotation>({
    {Annotation::lyric, "lyric"},
    {Annotation::lyric_above, "lyric-above"},
    {Annotation::technical, "technical"},
    {Annotation::words, "words"},
    {Annotation::none, "none"},
});

// Usual words whose elements came with MusicXML 3.1.
constexpr std::array<std::string_view, 3> kLaterDynamics{"n", "pf", "sfzp"};

constexpr auto kCueWords = base::word_table<Cue>({
    {Cue::fine, "fine"},
    {Cue::da_capo, "d.c."},
    {Cue::da_capo, "da capo"},
    {Cue::da_capo, "d.c. al fine"},
    {Cue::da_capo, "d.c. al coda"},
    {Cue::da_capo, "da capo al fine"},
    {Cue::da_capo, "da capo al coda"},
    {Cue::dal_segno, "d.s."},
    {Cue::dal_segno, "dal segno"},
    {Cue::dal_segno, "d.s. al fine"},
    {Cue::dal_segno, "d.s. al coda"},
    {Cue::dal_segno, "dal segno al fine"},
    {Cue::dal_segno, "dal segno al coda"},
    {Cue::to_coda, "to coda"},
    {Cue::until_cue, "until cue"},
    {Cue::rit, "rit."},
    {Cue::rit, "rit"},
    {Cue::rit, "ritardando"},
    {Cue::rit, "rall."},
    {Cue::rit, "rallentando"},
    {Cue::accel, "accel."},
    {Cue::accel, "accel"},
    {Cue::accel, "accelerando"},
    {Cue::a_tempo, "a tempo"},
});

}  // namespace

std::string_view annotation_name(Annotation annotation) {
  return kAnnotations.word_of(annotation);
}

std::optional<Annotation> annotation_named(std::string_view name) {
  return kAnnotations.value_of(name);
}

std::string_view hole_closed_name(model::Hole hole) {
  if (hole == model::Hole::half) return "half";
  return hole == model::Hole::open ? "no" : "yes";
}

const std::vector<MarkElement>& mark_elements() {
  static const std::vector<MarkElement> table{
      {Mark::fermata, MarkPlace::notations, "fermata", ""},
      {Mark::breath, MarkPlace::articulations, "breath-mark", "comma"},
      {Mark::optional_breath, MarkPlace::articulations, "breath-mark", "tick"},
      {Mark::uchi, MarkPlace::technical, "other-technical", "打"},
      {Mark::age, MarkPlace::technical, "other-technical", "上"},
      {Mark::suri, MarkPlace::notations, "slide", ""},
      {Mark::yuri, MarkPlace::ornaments, "other-ornament", "ユリ"},
      {Mark::trill, MarkPlace::ornaments, "trill-mark", ""},
      {Mark::accent, MarkPlace::articulations, "accent", ""},
      {Mark::staccato, MarkPlace::articulations, "staccato", ""},
      {Mark::tenuto, MarkPlace::articulations, "tenuto", ""},
  };
  return table;
}

const MarkElement& element_of(Mark mark) {
  return mark_elements()[static_cast<std::size_t>(mark)];
}

std::optional<Mark> mark_of(MarkPlace place, std::string_view element, std::string_view text) {
  const bool by_text = element.starts_with("other-");
  std::optional<Mark> found;
  for (const MarkElement& entry : mark_elements()) {
    if (entry.place != place || entry.element != element) continue;
    if (entry.text == text) return entry.mark;
    if (!by_text && !found) found = entry.mark;
  }
  return found;
}

bool has_dynamics_element(std::string_view level) {
  const auto usual = model::dynamic_words();
  return std::find(usual.begin(), usual.end(), level) != usual.end() &&
         std::find(kLaterDynamics.begin(), kLaterDynamics.end(), level) == kLaterDynamics.end();
}

const std::vector<CueElement>& cue_elements() {
  static const std::vector<CueElement> table{
      {Cue::segno, "segno", "segno", "segno"},
      {Cue::coda, "coda", "coda", "coda"},
      {Cue::fine, "words", "fine", "yes"},
      {Cue::da_capo, "words", "dacapo", "yes"},
      {Cue::dal_segno, "words", "dalsegno", "segno"},
      {Cue::to_coda, "words", "tocoda", "coda"},
      {Cue::until_cue, "words", "", ""},
      {Cue::rit, "words", "", ""},
      {Cue::accel, "words", "", ""},
      {Cue::a_tempo, "words", "", ""},
      {Cue::caesura, "words", "", ""},
  };
  return table;
}

std::optional<Cue> cue_of_sound(std::string_view attribute) {
  if (attribute.empty()) return std::nullopt;
  for (const CueElement& entry : cue_elements()) {
    if (entry.sound_attribute == attribute) return entry.cue;
  }
  return std::nullopt;
}

std::optional<Cue> cue_of_words(std::string_view words) {
  return kCueWords.value_of(base::lower_case(trimmed(words)));
}

bool metronome_holds(const model::Tempo& tempo) {
  return tempo.per_minute <= kFastest && tempo.unit >= Rational(1, 32) && tempo.unit <= Rational(8);
}

}  // namespace yubifu::musicxml
