// The lines of a part: which voice holds which note, what speaks for each as the melody, and where
// a line goes on in another. Shows pugixml.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <string_view>
#include <vector>

#include "model/melody_evidence.h"
#include "musicxml/read/part_events.h"

namespace yubifu::musicxml {

/// One voice of a part, on all staves or on one.
struct VoiceId {
  std::uint32_t voice = 0;  ///< index into the voices of the part
  std::optional<int> staff;

  bool holds(const NoteElement& note) const {
    return note.voice == voice && (!staff || note.staff == *staff);
  }
};

struct VoiceCount {
  VoiceId id;
  std::size_t attacks = 0;
  std::map<int, std::size_t> elements_by_staff;

  /// The staff with most of its notes and rests.
  int main_staff() const;
};

inline constexpr std::uint32_t kNoLine = std::numeric_limits<std::uint32_t>::max();

/// The voices of a part in the order in which they appear. A number that stands for two lines at
/// once, one on each staff, is two voices.
struct PartLines {
  std::vector<VoiceCount> counts;
  std::vector<std::uint32_t> line_of_note;  ///< indexes, one a note of the part, or kNoLine
};

/// The voices of all staves, or of one.
PartLines find_lines(const PartEvents& part, std::optional<int> staff);

/// Whether a part is percussion, as all under a percussion clef is; rests alone are none.
bool is_unpitched(const PartEvents& part);

/// What speaks for each line of a part as the melody; the places are left to the caller.
std::vector<model::LineEvidence> line_evidence(const PartSource& source, const PartEvents& part,
                                               const PartLines& lines, std::string_view text);

/// A measure in which the line goes on in another voice.
struct Passage {
  std::size_t measure = 0;
  std::uint32_t voice = 0;  ///< index into the voices of the part
};

/// Where a line goes on in other voices.
struct Following {
  std::vector<std::uint32_t> elements;  ///< notes and rests of those voices, by index; rising
  std::vector<Passage> passages;        ///< in the order of time
};

/// Where the main line is silent, a voice that takes turns with it is followed: on the same staff
/// one that does not sound together with it in that measure, on another staff one that never does.
/// Of several the highest goes first.
Following follow_line(const PartEvents& part, const PartLines& lines, std::size_t main);

}  // namespace yubifu::musicxml
