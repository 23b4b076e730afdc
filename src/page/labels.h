// Directions as labels beside the columns: tempo, sections, jumps, words.
#pragma once

#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include "model/score.h"
#include "page/columns.h"
#include "page/drawing.h"
#include "page/frame.h"
#include "page/strip.h"

namespace yubifu::page {

/// How a label is set off.
enum class LabelStyle { plain, bold, boxed };

/// A text, or a sign from the table of glyphs.
using LabelPart = std::variant<std::string, GlyphId>;

/// One direction, not yet placed.
struct Label {
  std::size_t bar = 0;  ///< index into Strip::bars
  double step = 0;      ///< where it belongs, in steps of the bar
  bool at_end = false;  ///< it ends with the bar
  LabelStyle style = LabelStyle::plain;
  std::vector<LabelPart> parts;
};

/// All labels in the order of the music.
std::vector<Label> labels_of(const model::Score& score, const Strip& strip);

/// A label with its place in a column.
struct PlacedLabel {
  std::size_t label = 0;
  Stretch along;
  std::size_t lane = 0;
  double size = 0;  ///< of its text
};

/// For each column its labels, in as many lanes as keep them apart.
std::vector<std::vector<PlacedLabel>> place_labels(const std::vector<Label>& labels,
                                                   const Columns& columns,
                                                   ReadingDirection direction);

/// The lanes that the labels of one column take.
std::size_t label_lanes(const std::vector<PlacedLabel>& placed);

/// The items of one label in its lane.
std::vector<Item> draw_label(const Label& label, const PlacedLabel& placed, const Frame& frame,
                             Stretch lane);

/// "♩. = 96" as parts: a note and text, or text alone for a unit without a note of its own.
std::vector<LabelPart> tempo_parts(const model::Tempo& tempo);

/// 六本調子 for size 6; the name of another flute.
std::string flute_label(const model::FluteName& name, const std::string& title);

}  // namespace yubifu::page
