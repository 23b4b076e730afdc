// Writes notes, rests and grace notes with all that hangs on them.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "model/pitch.h"
#include "model/rhythm_tree.h"
#include "model/score.h"
#include "musicxml/write/bar_layout.h"
#include "musicxml/write/notation_writer.h"
#include "musicxml/write/score_layout.h"
#include "musicxml/write/staff_plan.h"

namespace yubifu::musicxml {

/// Accidentals hold to the end of the bar, for their own line or space only.
class AccidentalMemory {
 public:
  explicit AccidentalMemory(const model::Key& key) { set_key(key); }

  /// A new key signature; also forgets the accidentals of the bar.
  void set_key(const model::Key& key);

  /// A new bar begins.
  void forget();

  /// Whether the note needs its accidental printed, which is in force from now on.
  bool needs_sign(const model::Spelling& spelling);

 private:
  static constexpr int kLowestOctave = -1;
  static constexpr std::size_t kOctaves = 12;

  using Octave = std::array<std::int8_t, 7>;

  Octave signature_{};
  std::array<Octave, kOctaves> in_force_{};
};

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
  std::string text_of(std::size_t note) const;

  const WriterContext& context_;
  base::XmlWriter& out_;
  const StaffState& staff_;
  AccidentalMemory accidentals_;
};

}  // namespace yubifu::musicxml
