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

struct MelodyChoice {
  std::size_t part = 0;
  VoiceId voice;
  int main_staff = 1;  ///< the staff with most of the voice's notes
};

/// What is read: as the options say, otherwise of the parts with at least nine tenths of their
/// attacks one note at a time (of all, if none is such) the one with most notes in reach after
/// the best shift by octaves, and of it the voice with most notes; the first of equals. The choice
/// is told with `voice-chosen` where there was one. Reports `unknown-part`, `unknown-voice` and
/// `unpitched-part`.
base::Outcome<MelodyChoice> choose_melody(const std::vector<PartSource>& parts,
                                          const std::vector<PartEvents>& events,
                                          const MusicXmlReadOptions& options,
                                          std::string_view text);

/// The measures in which the voice is silent but another voice of its part plays.
std::vector<std::size_t> silent_measures(const PartEvents& part, const VoiceId& voice);

}  // namespace yubifu::musicxml
