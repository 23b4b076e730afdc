#include "musicxml/read/note_element.h"

#include "base/numbers.h"
#include "base/word_table.h"
#include "musicxml/vocabulary.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;

// Octaves as far as spellings go.
constexpr int kLowestOctave = -1;
constexpr int kHighestOctave = 10;
// An alteration past this is a slip of the exporter.
constexpr double kMostReadAlter = 12;

std::optional<double> decimal(std::string_view text) {
  if (const auto whole = whole_number(text)) return *whole;
  if (text.starts_with('+')) text.remove_prefix(1);
  return base::decimal_number(text);
}

using Child = pugi::xml_node;
// What one child of <note> says goes into its place.
using Take = void (*)(NoteReading& note, Child child);

// How a note looks or is played back.
void take_nothing(NoteReading&, Child) {}

void take_pitch(NoteReading& note, Child pitch) {
  std::string_view step_text;
  std::optional<double> alter = 0;
  std::string_view octave_text;
  for (pugi::xml_node child = pitch.first_child(); child; child = child.next_sibling()) {
    const char name = child.name()[0];
    if (name == 's') step_text = word_of(child);
    if (name == 'a') alter = decimal(word_of(child));
    if (name == 'o') octave_text = word_of(child);
  }
  const auto step =
      step_text.size() == 1 ? model::step_from_letter(step_text.front()) : std::nullopt;
  const auto octave = whole_number(octave_text);
  const bool readable = step && octave && alter && *octave >= kLowestOctave &&
                        *octave <= kHighestOctave && *alter >= -kMostReadAlter &&
                        *alter <= kMostReadAlter;
  if (!readable) return;
  note.element.pitch = {*step, *octave, *alter};
  note.element.kind = NoteKind::pitched;
}

void take_rest(NoteReading& note, Child child) {
  note.element.kind = NoteKind::rest;
  note.element.fills_bar = attribute(child, "measure") == "yes";
}

void take_tie(NoteReading& note, Child child) {
  const std::string_view type = attribute(child, "type");
  note.element.tie_starts |= type == "start";
  note.element.tie_stops |= type == "stop";
}

void take_voice(NoteReading& note, Child child) {
  if (const std::string_view voice = word_of(child); !voice.empty()) note.voice = voice;
}

void take_staff(NoteReading& note, Child child) {
  note.element.staff = whole_number(word_of(child)).value_or(1);
}

void take_lyric(NoteReading& note, Child child) {
  if (!note.lyric) note.lyric = child;
}

void take_notations(NoteReading& note, Child child) {
  if (!note.element.notations) note.element.notations = child;
}

void take_ratio(NoteReading& note, Child child) {
  note.timing.actual_notes = child_word(child, "actual-notes");
  note.timing.normal_notes = child_word(child, "normal-notes");
}

// The children of <note> in the MusicXML 4.0 schema, those that come most often first.
constexpr auto kChildren = base::word_table<Take>({
    {take_pitch, "pitch"},
    {[](NoteReading& note, Child child) { note.timing.duration = word_of(child); }, "duration"},
    {take_voice, "voice"},
    {[](NoteReading& note, Child child) { note.timing.type = word_of(child); }, "type"},
    {take_nothing, "stem"},
    {take_nothing, "beam"},
    {take_staff, "staff"},
    {take_lyric, "lyric"},
    {take_notations, "notations"},
    {[](NoteReading& note, Child) { ++note.timing.dots; }, "dot"},
    {take_rest, "rest"},
    {[](NoteReading& note, Child) { note.element.is_chord = true; }, "chord"},
    {take_nothing, "accidental"},
    {[](NoteReading& note, Child) { note.element.is_cue = true; }, "cue"},
    {take_nothing, "footnote"},
    {[](NoteReading& note, Child) { note.element.is_grace = true; }, "grace"},
    {take_nothing, "instrument"},
    {take_nothing, "level"},
    {take_nothing, "listen"},
    {take_nothing, "notehead"},
    {take_nothing, "notehead-text"},
    {take_nothing, "play"},
    {take_tie, "tie"},
    {take_ratio, "time-modification"},
    {[](NoteReading& note, Child) { note.element.kind = NoteKind::unpitched; }, "unpitched"},
});

constexpr std::int64_t kMostRatio = 1'000;
constexpr int kMostReadDots = 4;
// Up to here products with the denominators of written lengths stay in 64 bits.
constexpr std::int64_t kMostTicks = 1'000'000'000'000;

struct Fraction {
  std::int64_t numerator = 1;
  std::int64_t denominator = 1;
};

// Type, dots and ratio as quarters, not reduced: small enough to multiply with divisions.
std::optional<Fraction> unreduced_length(const NoteTiming& timing) {
  if (timing.type.empty() || timing.dots > kMostReadDots) return std::nullopt;
  const auto plain = kNoteTypes.value_of(timing.type);
  if (!plain) return std::nullopt;
  Fraction length{plain->numerator(), plain->denominator()};
  if (timing.dots > 0) {
    length.numerator *= (2 << timing.dots) - 1;
    length.denominator *= 1 << timing.dots;
  }
  if (timing.actual_notes.empty() && timing.normal_notes.empty()) return length;
  const auto actual = whole_number(timing.actual_notes);
  const auto normal = whole_number(timing.normal_notes);
  const bool usable = actual && normal && *actual > 0 && *normal > 0 && *actual <= kMostRatio &&
                      *normal <= kMostRatio;
  if (!usable) return std::nullopt;
  length.numerator *= *normal;
  length.denominator *= *actual;
  return length;
}

// Whether the written length times the divisions lies less than one division from the duration,
// without being it.
bool is_rounded(Rational duration, Rational exact_divisions) {
  if (duration == exact_divisions) return false;
  const Rational difference =
      duration > exact_divisions ? duration - exact_divisions : exact_divisions - duration;
  return difference < Rational(1);
}

}  // namespace

NoteReading read_note(pugi::xml_node note) {
  NoteReading out;
  out.element.node = note;
  out.element.begin = static_cast<std::uint32_t>(start_of(note).begin);
  out.element.has_time_only = !attribute(note, "time-only").empty();
  for (pugi::xml_node child = note.first_child(); child; child = child.next_sibling()) {
    if (const auto take = kChildren.value_of(child.name())) {
      (*take)(out, child);
    } else if (child.type() == pugi::node_element) {
      out.element.has_unknown = true;
    }
  }
  return out;
}

pugi::xml_node unknown_child(pugi::xml_node note) {
  return note.find_child([](pugi::xml_node child) {
    return child.type() == pugi::node_element && !kChildren.value_of(child.name());
  });
}

std::optional<Rational> written_length(const NoteTiming& timing) {
  const auto length = unreduced_length(timing);
  if (!length) return std::nullopt;
  return Rational(length->numerator, length->denominator);
}

NoteLength length_of(const NoteTiming& timing, Rational divisions) {
  const auto written = unreduced_length(timing);
  const auto duration = divisions_in(timing.duration);
  if (!duration || *duration <= Rational(0)) {
    if (!written) return {};
    return {Rational(written->numerator, written->denominator), LengthSource::type};
  }
  if (written) {
    // The usual case, without a division: the duration is what the type says.
    const bool exact =
        duration->is_whole() && divisions.is_whole() && duration->numerator() < kMostTicks &&
        duration->numerator() * written->denominator == divisions.numerator() * written->numerator;
    const Rational length(written->numerator, written->denominator);
    if (exact) return {length, LengthSource::duration};
    if (is_rounded(*duration, length * divisions)) return {length, LengthSource::rounded};
  }
  return {*duration / divisions, LengthSource::duration};
}

std::optional<Rational> divisions_in(std::string_view text) {
  if (const auto whole = base::whole_number<std::int64_t>(text)) return Rational(*whole);
  if (text.starts_with('+')) text.remove_prefix(1);
  return model::parse_decimal(text);
}

namespace {

using model::Mark;

void take_mark(NoteDetails& out, pugi::xml_node node, MarkPlace place) {
  if (node.type() != pugi::node_element) return;
  if (const auto mark = mark_of(place, node.name(), text_of(node))) {
    out.marks.add(*mark);
  } else {
    out.left_out.push_back(node);
  }
}

void take_group(NoteDetails& out, pugi::xml_node group, MarkPlace place) {
  out.has_trill |= !group.child("trill-mark").empty();
  for (const pugi::xml_node child : group.children()) {
    const std::string_view name = child.name();
    // A wavy line prolongs a trill; only one that starts without a trill says something else.
    if (name == "wavy-line" && (out.has_trill || attribute(child, "type") != "start")) continue;
    if (name == "caesura") {
      out.has_caesura = true;
    } else if (name == "detached-legato") {
      out.marks.add(Mark::tenuto);
      out.marks.add(Mark::staccato);
    } else if (name != "fingering") {
      take_mark(out, child, place);
    }
  }
}

void take_notation(NoteDetails& out, pugi::xml_node node) {
  const std::string_view name = node.name();
  const std::string_view type = attribute(node, "type");
  if (name == "articulations") {
    take_group(out, node, MarkPlace::articulations);
  } else if (name == "ornaments") {
    take_group(out, node, MarkPlace::ornaments);
  } else if (name == "technical") {
    take_group(out, node, MarkPlace::technical);
  } else if (name == "slur") {
    const std::string_view number = attribute(node, "number");
    const std::string slur(number.empty() ? "1" : number);
    if (type == "start") out.slur_starts.push_back(slur);
    if (type == "stop") out.slur_stops.push_back(slur);
  } else if (name == "tied") {
    out.tied_starts |= type == "start" || type == "continue";
    out.tied_stops |= type == "stop" || type == "continue";
    if (type == "let-ring") out.left_out.push_back(node);
  } else if (name == "slide" || name == "glissando") {
    if (type == "start") out.marks.add(Mark::suri);
  } else if (name == "dynamics") {
    out.dynamics.push_back(node);
  } else if (name != "tuplet" && name != "footnote" && name != "level") {
    // Brackets of tuplets follow from the durations.
    take_mark(out, node, MarkPlace::notations);
  }
}

}  // namespace

std::vector<Mark> MarkSet::list() const {
  std::vector<Mark> marks;
  for (const MarkElement& entry : mark_elements()) {
    if (has(entry.mark)) marks.push_back(entry.mark);
  }
  return marks;
}

NoteDetails read_notations(pugi::xml_node first) {
  NoteDetails out;
  for (pugi::xml_node notations = first; notations;
       notations = notations.next_sibling("notations")) {
    for (const pugi::xml_node child : notations.children()) take_notation(out, child);
  }
  return out;
}

std::string dynamic_level(pugi::xml_node dynamics) {
  std::string level;
  for (const pugi::xml_node child : dynamics.children()) {
    if (child.type() != pugi::node_element) continue;
    const std::string_view name = child.name();
    if (!level.empty()) level += ' ';
    level += name == "other-dynamics" ? text_of(child) : std::string(name);
  }
  return level;
}

}  // namespace yubifu::musicxml
