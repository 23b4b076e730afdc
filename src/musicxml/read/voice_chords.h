// The notes of one voice in the order of time, those that are struck together as one chord. Shows
// pugixml.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "musicxml/read/melody_choice.h"
#include "musicxml/read/note_element.h"
#include "musicxml/read/part_events.h"
#include "musicxml/read/remarks.h"
#include "musicxml/read/staff_attributes.h"

namespace yubifu::musicxml {

/// One note of a chord, read in full.
struct ChordMember {
  std::size_t index = 0;  ///< in the part
  SoundingPitch sounds;
  std::optional<NoteDetails> details;  ///< of a note with notations
  bool tie_starts = false;
  bool tie_stops = false;
};

/// Notes of the voice that are struck together, mostly one; the highest is kept.
struct Chord {
  std::vector<ChordMember> members;
  std::size_t kept = 0;

  const ChordMember& top() const { return members[kept]; }
};

/// Indexes of notes of a part.
using NoteIndexes = std::vector<std::uint32_t>;

/// The indexes of the melody's notes and rests in the order of time. What the score cannot take is
/// remarked and not among them: cue notes, notes without a pitch or a length.
NoteIndexes select_melody(const PartEvents& part, const MelodyChoice& choice, std::string_view text,
                          Remarks& remarks);

/// The index past the last of the selected notes that belong to the chord of the first one: main
/// notes of one onset, whether or not they say so, grace notes only when they do.
std::size_t end_of_chord(const PartEvents& part, const NoteIndexes& selected, std::size_t first);

/// Reads the selected notes from the first to before the end into a chord, whose memory is used
/// again.
void read_chord(const PartEvents& part, const StaffAttributes& attributes,
                const NoteIndexes& selected, std::size_t first, std::size_t end, Chord& chord);

/// Whether two notes sound alike, however they are spelled.
bool same_pitch(const model::Pitch& a, const model::Pitch& b);

enum class TieEnd { start, stop };

/// True when the tie of which a member has one end has the other on a note that the other chord did
/// not keep.
bool is_tied_to_left_out(const ChordMember& member, TieEnd end, const Chord& other);

}  // namespace yubifu::musicxml
