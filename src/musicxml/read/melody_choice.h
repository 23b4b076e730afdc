// Which part and which voice of it become the score. Shows pugixml.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "musicxml/read/part_events.h"
#include "musicxml/read/reader.h"

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

/// Where a line goes on in other voices.
struct Following {
  std::vector<std::uint32_t> elements;  ///< notes and rests of those voices, by index; rising
  std::vector<Passage> passages;        ///< in the order of time
};

/// The line that is read.
struct MelodyChoice {
  std::size_t part = 0;
  VoiceId voice;
  int main_staff = 1;   ///< the staff with most of the voice's notes
  Following following;  ///< where it goes on in other voices

  /// Whether a note or rest of the part, by its index, belongs to the line.
  bool holds(const PartEvents& part, std::size_t index) const;
};

/// What is read: as the options say, otherwise what `model::find_melody` finds among the voices of
/// all parts, followed to other voices unless a voice was asked for. `voice-chosen` tells a choice.
/// Reports `unknown-part`, `unknown-voice` and `unpitched-part`.
base::Outcome<MelodyChoice> choose_melody(const std::vector<PartSource>& parts,
                                          const std::vector<PartEvents>& events,
                                          const MusicXmlReadOptions& options,
                                          std::string_view text);

/// The measures in which the line is silent but another voice of its part plays.
std::vector<std::size_t> silent_measures(const PartEvents& part, const MelodyChoice& choice);

}  // namespace yubifu::musicxml
