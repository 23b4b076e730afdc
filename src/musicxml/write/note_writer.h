// Writes the bars of the part: their notes, rests and grace notes with all that hangs on them,
// `<notations>`, the fingering under or over them, song text. And directions that hold one thing.
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <utility>

#include "model/pitch.h"
#include "model/rhythm_tree.h"
#include "model/score.h"
#include "musicxml/vocabulary_own.h"
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
  void forget() { in_force_.clear(); }

  /// Whether the note needs its accidental printed, which is in force from now on.
  bool needs_sign(const model::Spelling& spelling);

 private:
  std::array<int, 7> signature_{};
  std::map<std::pair<int, model::Step>, int> in_force_;  // by octave and step
};

/// The `<measure>` elements of a score that is laid out whole.
void write_bars(const WriterContext& context, const StaffPlan& plan, const ScoreLayout& layout);

/// One piece of a bar, with the grace notes before its note and after it. Marks that tell how a
/// note ends stand on its last piece, others on its first; slurs go from first to last.
void write_piece(const WriterContext& context, const StaffState& staff,
                 AccidentalMemory& accidentals, const model::BarContent& content,
                 const BarLayout& layout, std::size_t piece);

/// The text of a tone: its fingering as printed, `?`, spelling and bend for a gap, nothing for a
/// tone without a fingering.
std::string annotation_text(const model::Tone& tone);

/// A `<direction-type>` with one element that holds a text.
void write_direction_type(base::XmlWriter& out, std::string_view element, std::string_view text);

/// A `<direction-type>` that only says a text of our own, and a `<direction>` with nothing else.
void write_own_type(base::XmlWriter& out, const OwnMeaning& meaning);
void write_hidden(base::XmlWriter& out, const OwnMeaning& meaning);

}  // namespace yubifu::musicxml
