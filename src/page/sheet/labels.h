// What is said about the music: directions as labels beside the columns (tempo, sections, jumps,
// words), and the heading with title, names, flute, meter and tempo.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "model/score.h"
#include "page/drawing.h"
#include "page/sheet/columns.h"
#include "page/sheet/strip.h"

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
  const Label* label = nullptr;
  Stretch along;
  std::size_t lane = 0;
  double size = 0;  ///< of its text
};

/// For each column its labels, in as many lanes as keep them apart; `labels` must live on.
std::vector<std::vector<PlacedLabel>> place_labels(const std::vector<Label>& labels,
                                                   const Columns& columns,
                                                   ReadingDirection direction);

/// The items of one label in its lane.
std::vector<Item> draw_label(const PlacedLabel& placed, const Frame& frame, Stretch lane);

/// "6/8"; 自由 for free time, in every language.
std::string meter_text(const model::Meter& meter);

/// What a plain number lasts at the start, if it is not one over a simple meter's denominator.
std::optional<model::Rational> beat_in_heading(const model::Score& score);

/// "三 = ♪" as parts: what a plain number lasts.
std::vector<LabelPart> beat_parts(model::Rational beat);

/// "♩. = 96" as parts; a unit without a note of its own is a part of a whole note.
std::vector<LabelPart> tempo_parts(const model::Tempo& tempo);

/// What stands at the head, and the room it takes.
struct Heading {
  std::vector<Item> items;
  double room = 0;  ///< what it takes from the right edge, or from the top when read across
};

/// The heading within an area: a column of text at the right, or lines at the top for rows.
Heading make_heading(const model::Score& score, ReadingDirection direction, const Box& area);

}  // namespace yubifu::page
