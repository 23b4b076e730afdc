// Which part and which voice of it become the score. Shows pugixml.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "base/outcome.h"
#include "musicxml/part_events.h"
#include "musicxml/part_list.h"
#include "musicxml/reader.h"

namespace yubifu::musicxml {

/// One voice of a part, on all staves or on one.
struct VoiceId {
  std::uint32_t voice = 0;  ///< index into the voices of the part
  std::optional<int> staff;

  bool holds(const NoteElement& note) const {
    return note.voice == voice && (!staff || note.staff == *staff);
  }
};

/// A measure in which the line goes on in another voice.
struct Passage {
  std::size_t measure = 0;
  std::uint32_t voice = 0;  ///< index into the voices of the part
};

/// The line that is read.
struct MelodyChoice {
  std::size_t part = 0;
  VoiceId voice;
  int main_staff = 1;                   ///< the staff with most of the voice's notes
  std::vector<std::uint32_t> followed;  ///< notes and rests of other voices, by index; rising
  std::vector<Passage> passages;        ///< where those stand

  /// Whether a note or rest of the part, by its index, belongs to the line.
  bool holds(const PartEvents& part, std::size_t index) const;
};

/// What is read: as the options say, otherwise what `model::find_melody` finds among the voices of
/// all parts. Where that voice is silent, a voice that takes turns with it is followed, unless a
/// voice was asked for: on the same staff one that does not sound together with it in that
/// measure, on another staff one that never does. The choice is told with `voice-chosen` where
/// there was one. Reports `unknown-part`, `unknown-voice` and `unpitched-part`.
base::Outcome<MelodyChoice> choose_melody(const std::vector<PartSource>& parts,
                                          const std::vector<PartEvents>& events,
                                          const MusicXmlReadOptions& options,
                                          std::string_view text);

/// The measures in which the line is silent but another voice of its part plays.
std::vector<std::size_t> silent_measures(const PartEvents& part, const MelodyChoice& choice);

}  // namespace yubifu::musicxml
