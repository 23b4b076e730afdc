// Writes directions: words, dynamics, tempo, jumps, and our own hidden texts.
#pragma once

#include <optional>

#include "model/score.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/write/score_layout.h"

namespace yubifu::musicxml {

/// A `<direction>` that only says a text of our own.
void write_hidden(base::XmlWriter& out, const OwnMeaning& meaning);

/// Words above the staff, with what they mean beside them.
void write_hidden_words(base::XmlWriter& out, std::string_view words, const OwnMeaning& meaning);

/// Follows the tempo through the score, because words such as "a tempo" play it.
class DirectionWriter {
 public:
  explicit DirectionWriter(const WriterContext& context) : context_(context), out_(context.out) {}

  /// The tempo of the header.
  void write_tempo(const model::Tempo& tempo, model::Rational offset = 0);

  /// Any direction but a change of key or flute, whose attributes are the bar's affair. `offset`
  /// is its place after the next note, in quarters.
  void write(const model::DirectionValue& value, model::Rational offset);

 private:
  void write(const model::SectionStart& section, model::Rational offset);
  void write(const model::TextDirection& text, model::Rational offset);
  void write(const model::Dynamic& dynamic, model::Rational offset);
  void write(model::Cue cue, model::Rational offset);
  void write_words(std::string_view words);
  void write_metronome(const model::Tempo& tempo);
  void write_own(const OwnMeaning& meaning);
  void write_offset(model::Rational offset);
  void write_sound(std::string_view attribute, std::string_view value);

  const WriterContext& context_;
  base::XmlWriter& out_;
  model::Rational tempo_ = model::kDefaultTempo.quarters_per_minute();
};

}  // namespace yubifu::musicxml
