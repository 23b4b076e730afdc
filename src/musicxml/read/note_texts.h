// What stands at the notes: fingerings, also those of annotate, and song text. Shows pugixml.
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

struct AnnotationText {
  model::Fingering fingering;
  std::optional<model::Spelling> gap;  ///< of a gap: its sounding pitch
  bool has_strokes = false;
};

/// Reads a sign with half hole and bend (also one that only a flute file defines: a character with
/// its combining marks), or a gap such as `?F#4↓20`, and passes over strokes behind them. Nothing
/// for any other text.
std::optional<AnnotationText> parse_annotation(std::string_view text);

/// True for a `<direction>` that annotate has written, if the file says that it was annotated.
bool is_annotation_direction(pugi::xml_node direction);

/// True for a child of a `<technical>` in such a `<notations>`.
bool is_in_annotation(pugi::xml_node technical_child);

struct NoteTexts {
  std::vector<std::string> verses;  ///< their names, in order
  /// Fingerings that were written with strokes, by the main note that they stand at.
  std::map<std::size_t, PlacedText> stroked;
};

/// Gives the notes the fingerings, asked hole patterns and syllables that stand at their sources.
NoteTexts add_note_texts(MelodyNotes& melody, const ScoreDirections& directions,
                         const StaffContext& context);

}  // namespace yubifu::musicxml
