#include "musicxml/vocabulary.h"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

namespace yubifu::musicxml {
namespace {

using model::Cue;
using model::Mark;
using model::Rational;

template <typename Value, std::size_t N>
using Table = std::array<std::pair<Value, std::string_view>, N>;

template <typename Value, std::size_t N>
std::string_view name_in(const Table<Value, N>& table, const Value& value) {
  for (const auto& [entry, name] : table) {
    if (entry == value) return name;
  }
  return {};
}

template <typename Value, std::size_t N>
std::optional<Value> value_in(const Table<Value, N>& table, std::string_view name) {
  for (const auto& [value, entry] : table) {
    if (entry == name) return value;
  }
  return std::nullopt;
}

constexpr Table<Annotation, 5> kAnnotations{{{Annotation::lyric, "lyric"},
                                             {Annotation::lyric_above, "lyric-above"},
                                             {Annotation::technical, "technical"},
                                             {Annotation::words, "words"},
                                             {Annotation::none, "none"}}};

// note-type-value of the MusicXML schema.
constexpr Table<Rational, 14> kNoteTypes{{{Rational(1), "quarter"},
                                          {Rational(1, 2), "eighth"},
                                          {Rational(1, 4), "16th"},
                                          {Rational(2), "half"},
                                          {Rational(4), "whole"},
                                          {Rational(1, 8), "32nd"},
                                          {Rational(1, 16), "64th"},
                                          {Rational(8), "breve"},
                                          {Rational(1, 32), "128th"},
                                          {Rational(1, 64), "256th"},
                                          {Rational(1, 128), "512th"},
                                          {Rational(1, 256), "1024th"},
                                          {Rational(16), "long"},
                                          {Rational(32), "maxima"}}};

// accidental-value of the schema; the first name of an alteration is the one written.
constexpr Table<int, 7> kAccidentals{{{0, "natural"},
                                      {1, "sharp"},
                                      {-1, "flat"},
                                      {2, "double-sharp"},
                                      {-2, "flat-flat"},
                                      {2, "sharp-sharp"},
                                      {-2, "double-flat"}}};

constexpr Table<model::BarStyle, 3> kBarStyles{{{model::BarStyle::regular, "regular"},
                                                {model::BarStyle::section, "light-light"},
                                                {model::BarStyle::final, "light-heavy"}}};

// The elements of the dynamics type in the schema of MusicXML 3.0.
constexpr std::array<std::string_view, 23> kDynamics{
    "p",  "pp", "ppp", "pppp", "ppppp", "pppppp", "f",  "ff",  "fff", "ffff", "fffff", "ffffff",
    "mp", "mf", "sf",  "sfp",  "sfpp",  "fp",     "rf", "rfz", "sfz", "sffz", "fz"};

constexpr std::array<std::pair<std::string_view, Cue>, 24> kCueWords{{
    {"fine", Cue::fine},
    {"d.c.", Cue::da_capo},
    {"da capo", Cue::da_capo},
    {"d.c. al fine", Cue::da_capo},
    {"d.c. al coda", Cue::da_capo},
    {"da capo al fine", Cue::da_capo},
    {"da capo al coda", Cue::da_capo},
    {"d.s.", Cue::dal_segno},
    {"dal segno", Cue::dal_segno},
    {"d.s. al fine", Cue::dal_segno},
    {"d.s. al coda", Cue::dal_segno},
    {"dal segno al fine", Cue::dal_segno},
    {"dal segno al coda", Cue::dal_segno},
    {"to coda", Cue::to_coda},
    {"until cue", Cue::until_cue},
    {"rit.", Cue::rit},
    {"rit", Cue::rit},
    {"ritardando", Cue::rit},
    {"rall.", Cue::rit},
    {"rallentando", Cue::rit},
    {"accel.", Cue::accel},
    {"accel", Cue::accel},
    {"accelerando", Cue::accel},
    {"a tempo", Cue::a_tempo},
}};

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::string_view trimmed_value(std::string_view text) {
  constexpr std::string_view kSpace = " \t\r\n";
  const std::size_t first = text.find_first_not_of(kSpace);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kSpace) - first + 1);
}

}  // namespace

std::string_view annotation_name(Annotation annotation) {
  return name_in(kAnnotations, annotation);
}

std::optional<Annotation> annotation_named(std::string_view name) {
  return value_in(kAnnotations, name);
}

std::optional<std::string_view> note_type_name(Rational quarters) {
  const std::string_view name = name_in(kNoteTypes, quarters);
  return name.empty() ? std::nullopt : std::optional(name);
}

std::optional<Rational> note_type_length(std::string_view name) {
  return value_in(kNoteTypes, name);
}

std::string_view accidental_name(int alter) {
  return name_in(kAccidentals, alter);
}

std::optional<int> accidental_alter(std::string_view name) {
  return value_in(kAccidentals, name);
}

std::string_view hole_closed_name(model::Hole hole) {
  if (hole == model::Hole::half) return "half";
  return hole == model::Hole::open ? "no" : "yes";
}

std::string_view bar_style_name(model::BarStyle style) {
  return name_in(kBarStyles, style);
}

std::optional<model::BarStyle> bar_style_named(std::string_view name) {
  return value_in(kBarStyles, name);
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
  const std::vector<MarkElement>& all = mark_elements();
  return *std::find_if(all.begin(), all.end(),
                       [&](const MarkElement& entry) { return entry.mark == mark; });
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
  return std::find(kDynamics.begin(), kDynamics.end(), level) != kDynamics.end();
}

const std::vector<CueElement>& cue_elements() {
  static const std::vector<CueElement> table{
      {Cue::segno, "segno", "", "segno", "segno"},
      {Cue::coda, "coda", "", "coda", "coda"},
      {Cue::fine, "words", "Fine", "fine", "yes"},
      {Cue::da_capo, "words", "D.C.", "dacapo", "yes"},
      {Cue::dal_segno, "words", "D.S.", "dalsegno", "segno"},
      {Cue::to_coda, "words", "To Coda", "tocoda", "coda"},
      {Cue::until_cue, "words", "until cue", "", ""},
      {Cue::rit, "words", "rit.", "", ""},
      {Cue::accel, "words", "accel.", "", ""},
      {Cue::a_tempo, "words", "a tempo", "", ""},
      {Cue::caesura, "words", "//", "", ""},
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
  std::string plain(trimmed_value(words));
  for (char& c : plain) c = lower(c);
  for (const auto& [text, cue] : kCueWords) {
    if (text == plain) return cue;
  }
  return std::nullopt;
}

bool metronome_holds(const model::Tempo& tempo) {
  return tempo.per_minute <= kFastest && tempo.unit >= Rational(1, 32) && tempo.unit <= Rational(8);
}

}  // namespace yubifu::musicxml
