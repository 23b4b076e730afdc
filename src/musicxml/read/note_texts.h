// What stands under, over and beside the notes: fingerings and song text. Shows pugixml.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/score.h"
#include "musicxml/read/bar_map.h"
#include "musicxml/read/melody_notes.h"
#include "musicxml/read/part_events.h"
#include "musicxml/read/remarks.h"
#include "musicxml/read/score_directions.h"

namespace yubifu::musicxml {

/// A fingering that was written with strokes.
struct StrokedFingering {
  std::size_t measure = 0;  ///< of the file
  pugi::xml_node node;
  std::string text;
};

struct NoteTexts {
  std::vector<std::string> verses;                  ///< their names, in order
  std::map<std::size_t, StrokedFingering> stroked;  ///< by the main note that they stand at
};

/// Gives the notes the fingerings, asked hole patterns and syllables that stand at their sources in
/// the part.
NoteTexts add_note_texts(MelodyNotes& melody, const ScoreDirections& directions,
                         const StaffContext& context);

}  // namespace yubifu::musicxml
