#include "musicxml/annotation_text.h"

#include <algorithm>
#include <array>
#include <string>

#include "model/strokes.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {
namespace {

constexpr std::array<std::string_view, 2> kArrows{"↓", "↑"};

// Half hole and bend, read as those of any standard sign.
std::optional<model::Fingering> parse_suffix(std::string_view suffix) {
  const auto any = model::Sign::standard(model::Register::low, 1);
  return model::parse_printed(any->printed() + std::string(suffix));
}

std::optional<AnnotationText> parse_gap(std::string_view text) {
  text.remove_prefix(kGapSign.size());
  std::size_t end = text.size();
  for (const std::string_view arrow : kArrows) end = std::min(end, text.find(arrow));
  const auto spelling = model::parse_spelling(text.substr(0, end));
  const auto suffix = parse_suffix(text.substr(end));
  if (!spelling || !suffix || suffix->half != model::HalfHole::none) return std::nullopt;
  return AnnotationText{{std::nullopt, model::HalfHole::none, suffix->bend_cents}, spelling};
}

}  // namespace

std::optional<AnnotationText> parse_annotation(std::string_view text) {
  text = model::without_strokes(text);
  if (text.starts_with(kGapSign)) return parse_gap(text);
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
