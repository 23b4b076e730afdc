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

std::optional<WrittenPitch> read_pitch(pugi::xml_node pitch) {
  std::string_view step_text;
  std::optional<double> alter = 0;
  std::string_view octave_text;
  for (pugi::xml_node child = pitch.first_child(); child; child = child.next_sibling()) {
    switch (child.name()[0]) {
      case 's':
        step_text = word_of(child);
        break;
      case 'a':
        alter = decimal(word_of(child));
        break;
      case 'o':
        octave_text = word_of(child);
        break;
      default:
        break;
    }
  }
  const auto step =
      step_text.size() == 1 ? model::step_from_letter(step_text.front()) : std::nullopt;
  const auto octave = whole_number(octave_text);
  const bool readable = step && octave && alter && *octave >= kLowestOctave &&
                        *octave <= kHighestOctave && *alter >= -kMostReadAlter &&
                        *alter <= kMostReadAlter;
  if (!readable) return std::nullopt;
  return WrittenPitch{*step, *octave, *alter};
}

using Note = NoteReading&;
using Child = pugi::xml_node;
// What one child of <note> says goes into its place.
using Take = void (*)(Note note, Child child);

// How a note looks or is played back.
void take_nothing(Note, Child) {}

void take_pitch(Note note, Child child) {
  const auto pitch = read_pitch(child);
  if (!pitch) return;
  note.element.pitch = *pitch;
  note.element.kind = NoteKind::pitched;
}

void take_rest(Note note, Child child) {
  note.element.kind = NoteKind::rest;
  note.element.fills_bar = attribute(child, "measure") == "yes";
}

void take_tie(Note note, Child child) {
  const std::string_view type = attribute(child, "type");
  note.element.tie_starts = note.element.tie_starts || type == "start";
  note.element.tie_stops = note.element.tie_stops || type == "stop";
}

void take_voice(Note note, Child child) {
  if (const std::string_view voice = word_of(child); !voice.empty()) note.voice = voice;
}

void take_staff(Note note, Child child) {
  note.element.staff = whole_number(word_of(child)).value_or(1);
}

void take_lyric(Note note, Child child) {
  if (!note.lyric) note.lyric = child;
}

void take_notations(Note note, Child child) {
  if (!note.element.notations) note.element.notations = child;
}

void take_ratio(Note note, Child child) {
  note.timing.actual_notes = child_word(child, "actual-notes");
  note.timing.normal_notes = child_word(child, "normal-notes");
}

// The children of <note> in the MusicXML 4.0 schema, those that come most often first.
constexpr auto kChildren = base::word_table<Take>({
    {take_pitch, "pitch"},
    {[](Note note, Child child) { note.timing.duration = word_of(child); }, "duration"},
    {take_voice, "voice"},
    {[](Note note, Child child) { note.timing.type = word_of(child); }, "type"},
    {take_nothing, "stem"},
    {take_nothing, "beam"},
    {take_staff, "staff"},
    {take_lyric, "lyric"},
    {take_notations, "notations"},
    {[](Note note, Child) { ++note.timing.dots; }, "dot"},
    {take_rest, "rest"},
    {[](Note note, Child) { note.element.is_chord = true; }, "chord"},
    {take_nothing, "accidental"},
    {[](Note note, Child) { note.element.is_cue = true; }, "cue"},
    {take_nothing, "footnote"},
    {[](Note note, Child) { note.element.is_grace = true; }, "grace"},
    {take_nothing, "instrument"},
    {take_nothing, "level"},
    {take_nothing, "listen"},
    {take_nothing, "notehead"},
    {take_nothing, "notehead-text"},
    {take_nothing, "play"},
    {take_tie, "tie"},
    {take_ratio, "time-modification"},
    {[](Note note, Child) { note.element.kind = NoteKind::unpitched; }, "unpitched"},
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
  const auto plain = note_type_length(timing.type);
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

std::string number_of(pugi::xml_node span) {
  const std::string_view number = attribute(span, "number");
  return number.empty() ? "1" : std::string(number);
}

class NotationReader {
 public:
  NoteDetails run(pugi::xml_node first) {
    for (pugi::xml_node notations = first; notations;
         notations = notations.next_sibling("notations")) {
      for (pugi::xml_node child = notations.first_child(); child; child = child.next_sibling()) {
        take(child);
      }
    }
    return std::move(out_);
  }

 private:
  void take(pugi::xml_node node) {
    const std::string_view name = node.name();
    if (name == "articulations") {
      take_group(node, MarkPlace::articulations);
    } else if (name == "ornaments") {
      take_group(node, MarkPlace::ornaments);
    } else if (name == "technical") {
      take_group(node, MarkPlace::technical);
    } else if (name == "slur") {
      take_slur(node);
    } else if (name == "tied") {
      take_tied(node);
    } else if (name == "slide" || name == "glissando") {
      if (attribute(node, "type") == "start") out_.marks.add(Mark::suri);
    } else if (name == "dynamics") {
      out_.dynamics.push_back(node);
    } else if (name == "tuplet" || name == "footnote" || name == "level") {
      return;  // the brackets follow from the durations
    } else {
      take_mark(node, MarkPlace::notations);
    }
  }

  void take_group(pugi::xml_node group, MarkPlace place) {
    has_trill_ = has_trill_ || group.child("trill-mark");
    for (const pugi::xml_node child : group.children()) {
      const std::string_view name = child.name();
      if (name == "fingering") continue;
      if (name == "caesura") {
        out_.has_caesura = true;
      } else if (name == "detached-legato") {
        out_.marks.add(Mark::tenuto);
        out_.marks.add(Mark::staccato);
      } else if (name == "wavy-line" && is_part_of_trill(child)) {
        continue;
      } else {
        take_mark(child, place);
      }
    }
  }

  // A wavy line prolongs a trill; only one that starts without a trill says something else.
  bool is_part_of_trill(pugi::xml_node wavy_line) const {
    return has_trill_ || attribute(wavy_line, "type") != "start";
  }

  void take_mark(pugi::xml_node node, MarkPlace place) {
    if (node.type() != pugi::node_element) return;
    if (const auto mark = mark_of(place, node.name(), text_of(node))) {
      out_.marks.add(*mark);
    } else {
      out_.left_out.push_back(node);
    }
  }

  void take_slur(pugi::xml_node node) {
    const std::string_view type = attribute(node, "type");
    if (type == "start") out_.slur_starts.push_back(number_of(node));
    if (type == "stop") out_.slur_stops.push_back(number_of(node));
  }

  void take_tied(pugi::xml_node node) {
    const std::string_view type = attribute(node, "type");
    out_.tied_starts = out_.tied_starts || type == "start" || type == "continue";
    out_.tied_stops = out_.tied_stops || type == "stop" || type == "continue";
    if (type == "let-ring") out_.left_out.push_back(node);
  }

  NoteDetails out_;
  bool has_trill_ = false;
};

}  // namespace

std::vector<Mark> MarkSet::list() const {
  std::vector<Mark> marks;
  for (const MarkElement& entry : mark_elements()) {
    if (has(entry.mark)) marks.push_back(entry.mark);
  }
  return marks;
}

NoteDetails read_notations(pugi::xml_node first) {
  return NotationReader().run(first);
}

std::vector<pugi::xml_node> fingerings_in(pugi::xml_node first) {
  std::vector<pugi::xml_node> found;
  for (pugi::xml_node notations = first; notations;
       notations = notations.next_sibling("notations")) {
    for (const pugi::xml_node group : notations.children()) {
      for (const pugi::xml_node node : group.children("fingering")) found.push_back(node);
    }
  }
  return found;
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
