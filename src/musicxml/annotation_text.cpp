#include "musicxml/annotation_text.h"

#include "model/note.h"
#include "model/strokes.h"

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

}  // namespace yubifu::musicxml
