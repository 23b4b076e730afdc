#include "musicxml/write/direction_writer.h"

#include "musicxml/vocabulary.h"
#include "musicxml/write/note_value.h"

namespace yubifu::musicxml {
namespace {

using model::Cue;
using model::Rational;

// What ritardando and accelerando make of the tempo where no other one follows: our choice, a
// fourth.
constexpr Rational kSlower(3, 4);
constexpr Rational kFaster(4, 3);

// The metronome's note for a tempo's unit, if there is one.
std::optional<NoteValue> unit_value(const model::Tempo& tempo) {
  const auto value = single_value(tempo.unit);
  return value && note_type_name(value->base) ? value : std::nullopt;
}

bool is_decimal(Rational value) {
  return model::parse_decimal(model::to_decimal(value)) == value;
}

void open_direction(base::XmlWriter& out, std::string_view placement) {
  out.open("direction");
  out.attribute("placement", placement);
}

void write_type_with_text(base::XmlWriter& out, std::string_view element, std::string_view text) {
  out.open("direction-type");
  out.text(element, text);
  out.close();
}

void write_own_type(base::XmlWriter& out, const OwnMeaning& meaning) {
  out.open("direction-type");
  out.open("other-direction");
  out.attribute("print-object", "no");
  out.close_with_text(own_text(meaning));
  out.close();
}

}  // namespace

void write_hidden(base::XmlWriter& out, const OwnMeaning& meaning) {
  out.open("direction");
  write_own_type(out, meaning);
  out.close();
}

void write_hidden_words(base::XmlWriter& out, std::string_view words, const OwnMeaning& meaning) {
  open_direction(out, "above");
  write_type_with_text(out, "words", words);
  write_own_type(out, meaning);
  out.close();
}

void DirectionWriter::write_tempo(const model::Tempo& tempo, Rational offset) {
  tempo_ = tempo.quarters_per_minute();
  const bool exact = unit_value(tempo) && is_decimal(tempo.per_minute) && metronome_holds(tempo);
  open_direction(out_, "above");
  write_metronome(tempo);
  if (!exact) write_own(model::DirectionValue(model::TempoChange{tempo}));
  write_offset(offset);
  write_sound("tempo", model::to_decimal(tempo_));
  out_.close();
}

void DirectionWriter::write_metronome(const model::Tempo& tempo) {
  const auto value = unit_value(tempo);
  const NoteValue unit = value.value_or(NoteValue{1, 0});
  const Rational per_minute = value ? tempo.per_minute : tempo.quarters_per_minute();
  out_.open("direction-type");
  out_.open("metronome");
  out_.text("beat-unit", *note_type_name(unit.base));
  for (int dot = 0; dot < unit.dots; ++dot) out_.empty("beat-unit-dot");
  out_.text("per-minute", model::to_decimal(per_minute));
  out_.close();
  out_.close();
}

void DirectionWriter::write(const model::DirectionValue& value, Rational offset) {
  if (const auto* change = std::get_if<model::TempoChange>(&value)) {
    write_tempo(change->tempo, offset);
  } else if (const auto* section = std::get_if<model::SectionStart>(&value)) {
    write(*section, offset);
  } else if (const auto* text = std::get_if<model::TextDirection>(&value)) {
    write(*text, offset);
  } else if (const auto* dynamic = std::get_if<model::Dynamic>(&value)) {
    write(*dynamic, offset);
  } else if (const auto* cue = std::get_if<Cue>(&value)) {
    write(*cue, offset);
  } else {
    out_.open("direction");
    write_own(value);
    write_offset(offset);
    out_.close();
  }
}

void DirectionWriter::write(const model::SectionStart& section, Rational offset) {
  open_direction(out_, "above");
  write_type_with_text(out_, "rehearsal", section.name);
  write_offset(offset);
  out_.close();
}

void DirectionWriter::write(const model::TextDirection& text, Rational offset) {
  open_direction(out_, "above");
  write_words(text.text);
  if (cue_of_words(text.text)) write_own(model::DirectionValue(text));
  write_offset(offset);
  out_.close();
}

void DirectionWriter::write(const model::Dynamic& dynamic, Rational offset) {
  open_direction(out_, "below");
  out_.open("direction-type");
  out_.open("dynamics");
  if (has_dynamics_element(dynamic.level)) {
    out_.open(dynamic.level);
    out_.close();
  } else {
    out_.text("other-dynamics", dynamic.level);
  }
  out_.close();
  out_.close();
  write_offset(offset);
  out_.close();
}

void DirectionWriter::write(Cue cue, Rational offset) {
  const CueElement& entry = cue_elements()[static_cast<std::size_t>(cue)];
  open_direction(out_, "above");
  const std::string_view words = model::printed(cue);
  if (words.empty()) {
    out_.open("direction-type");
    out_.empty(entry.element);
    out_.close();
  } else {
    write_words(words);
  }
  if (entry.sound_attribute.empty()) write_own(model::DirectionValue(cue));
  write_offset(offset);
  if (!entry.sound_attribute.empty()) write_sound(entry.sound_attribute, entry.sound_value);
  if (cue == Cue::rit) write_sound("tempo", model::to_decimal(tempo_ * kSlower));
  if (cue == Cue::accel) write_sound("tempo", model::to_decimal(tempo_ * kFaster));
  if (cue == Cue::a_tempo) write_sound("tempo", model::to_decimal(tempo_));
  out_.close();
}

void DirectionWriter::write_words(std::string_view words) {
  write_type_with_text(out_, "words", words);
}

void DirectionWriter::write_own(const OwnMeaning& meaning) {
  write_own_type(out_, meaning);
}

void DirectionWriter::write_offset(Rational offset) {
  if (offset == Rational(0)) return;
  out_.open("offset");
  out_.attribute("sound", "yes");
  out_.close_with_text(model::to_text(Rational(context_.in_divisions(offset))));
}

void DirectionWriter::write_sound(std::string_view attribute, std::string_view value) {
  out_.open("sound");
  out_.attribute(attribute, value);
  out_.close();
}

}  // namespace yubifu::musicxml
