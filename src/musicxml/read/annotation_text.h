// The fingering as it stands in a staff file: its text, and whether annotate put it there. Shows
// pugixml.
#pragma once

#include <optional>
#include <string_view>

#include <pugixml.hpp>

#include "model/fingering.h"
#include "model/pitch.h"

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

}  // namespace yubifu::musicxml
