#include "musicxml/read/annotation_text.h"

#include <algorithm>

#include "model/note.h"
#include "model/strokes.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {

std::optional<AnnotationText> parse_annotation(std::string_view text) {
  text = model::without_strokes(text);
  if (const auto gap = model::parse_gap(text)) {
    return AnnotationText{*gap->fingering, gap->spelling};
  }
  const auto fingering = model::parse_printed(text);
  if (!fingering) return std::nullopt;
  return AnnotationText{*fingering, std::nullopt};
}

std::optional<AnnotationText> parse_marked_annotation(std::string_view text) {
  if (auto standard = parse_annotation(text)) return standard;
  const auto fingering = model::parse_printed_of_any_flute(model::without_strokes(text));
  if (!fingering) return std::nullopt;
  return AnnotationText{*fingering, std::nullopt};
}

namespace {

bool has_mark(pugi::xml_node node, const MarkAttribute& mark) {
  return attribute(node, mark.name) == mark.value;
}

}  // namespace

bool is_annotation_direction(pugi::xml_node direction) {
  return std::all_of(kDirectionMarks.begin(), kDirectionMarks.end(),
                     [&](const MarkAttribute& mark) { return has_mark(direction, mark); });
}

bool is_in_annotation(pugi::xml_node technical_child) {
  return has_mark(technical_child.parent().parent(), kNotationsMark);
}

}  // namespace yubifu::musicxml
