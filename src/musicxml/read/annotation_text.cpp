#include "musicxml/read/annotation_text.h"

#include <algorithm>

#include "model/note.h"
#include "model/strokes.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

bool has_mark(pugi::xml_node node, const MarkAttribute& mark) {
  return attribute(node, mark.name) == mark.value;
}

}  // namespace

std::optional<AnnotationText> parse_annotation(std::string_view text) {
  // Most have no strokes, and to look for them takes longer than all else.
  if (const auto standard = model::parse_printed(text)) return AnnotationText{*standard, {}, false};
  const std::string_view bare = model::without_strokes(text);
  const bool has_strokes = bare.size() < text.size();
  if (const auto gap = model::parse_gap(bare)) {
    return AnnotationText{*gap->fingering, gap->spelling, has_strokes};
  }
  const auto fingering = model::parse_printed_of_any_flute(bare);
  if (!fingering) return std::nullopt;
  return AnnotationText{*fingering, {}, has_strokes};
}

bool is_annotation_direction(pugi::xml_node direction) {
  return std::all_of(kDirectionMarks.begin(), kDirectionMarks.end(),
                     [&](const MarkAttribute& mark) { return has_mark(direction, mark); });
}

bool is_in_annotation(pugi::xml_node technical_child) {
  return has_mark(technical_child.parent().parent(), kNotationsMark);
}

}  // namespace yubifu::musicxml
