// Writes notes, rests and grace notes with all that hangs on them.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "model/rhythm_tree.h"
#include "model/score.h"
#include "musicxml/accidental_memory.h"
#include "musicxml/bar_layout.h"
#include "musicxml/notation_writer.h"
#include "musicxml/staff_plan.h"
#include "musicxml/writer_context.h"

namespace yubifu::musicxml {

class NoteWriter {
 public:
  /// Both must outlive the writer.
  NoteWriter(const WriterContext& context, const StaffState& staff)
      : context_(context), out_(context.out), staff_(staff), accidentals_(staff.key()) {}

  /// A new bar begins.
  void begin_bar() { accidentals_.forget(); }

  /// The key on the staff has changed.
  void key_changed() { accidentals_.set_key(staff_.key()); }

  /// One piece of a bar, with the grace notes before its note and after it.
  void write(const model::BarContent& content, const BarLayout& layout, std::size_t piece);

 private:
  /// What a grace note does to its main note.
  enum class Grace { before, after };

  void write_rest(const PiecePlace& place);
  void write_note(const PiecePlace& place);
  void write_graces(const model::Note& note, Grace kind);
  void write_grace(const model::Note& note, const std::vector<model::Tone>& tones,
                   std::size_t index, Grace kind);
  void write_pitch(const StaffPitch& pitch);
  void write_duration(const Piece& piece) {
    out_.number("duration", context_.in_divisions(piece.duration()));
  }
  void write_type(const Piece& piece);
  void write_sign(const model::Spelling& spelling);
  void write_time_modification(const PiecePlace& place);
  void write_beam(std::size_t level, Beam beam);
  std::string text_of(const model::Note& note) const;

  const WriterContext& context_;
  ElementWriter& out_;
  const StaffState& staff_;
  AccidentalMemory accidentals_;
};

}  // namespace yubifu::musicxml
