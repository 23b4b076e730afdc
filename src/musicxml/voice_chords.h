// The notes of one voice in the order of time, those that are struck together as one chord. Shows
// pugixml.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

#include "musicxml/melody_choice.h"
#include "musicxml/note_details.h"
#include "musicxml/part_events.h"
#include "musicxml/remarks.h"
#include "musicxml/staff_attributes.h"

namespace yubifu::musicxml {

/// One note of a chord, read in full.
struct ChordMember {
  std::size_t index = 0;  ///< in the part
  SoundingPitch sounds;
  NoteDetails details;
  bool tie_starts = false;
  bool tie_stops = false;
};

/// Notes of the voice that are struck together, mostly one; the highest is kept.
struct Chord {
  std::vector<ChordMember> members;
  std::size_t kept = 0;

  const ChordMember& top() const { return members[kept]; }
};

/// The indexes of the voice's notes and rests in the order of time. What the score cannot take is
/// remarked and not among them: cue notes, notes without a pitch or a length.
std::vector<std::size_t> select_voice(const PartEvents& part, const VoiceId& voice,
                                      std::string_view text, Remarks& remarks);

/// The index past the last of the selected notes that belong to the chord of the first one: main
/// notes of one onset, whether or not they say so, grace notes only when they do.
std::size_t end_of_chord(const PartEvents& part, const std::vector<std::size_t>& selected,
                         std::size_t first);

/// Reads the selected notes from the first to before the end.
Chord read_chord(const PartEvents& part, const StaffAttributes& attributes,
                 const std::vector<std::size_t>& selected, std::size_t first, std::size_t end);

/// Whether two notes sound alike, however they are spelled.
bool same_pitch(const model::Pitch& a, const model::Pitch& b);

/// True when the other end of a member's tie is a note that the other chord did not keep.
bool is_tied_to_left_out(const ChordMember& member, const Chord& other);

}  // namespace yubifu::musicxml
