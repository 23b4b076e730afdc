// What stands under, over and beside the notes: fingerings and song text. Shows pugixml.
#pragma once

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

/// What the file says about its annotation.
struct AnnotationContext {
  std::optional<Annotation> annotation;  ///< by the options or the file; absent: not known
  bool is_ours = false;
  bool is_annotated = false;  ///< fingerings in <technical> are marked then
  std::string_view text;
};

/// `lyrics` are those of the part. Gives the notes their fingerings, asked hole patterns and
/// syllables; returns the names of the verses in order.
std::vector<std::string> add_note_texts(MelodyNotes& melody, const PartLyrics& lyrics,
                                        const ScoreDirections& directions, const BarMap& map,
                                        const AnnotationContext& context);

}  // namespace yubifu::musicxml
