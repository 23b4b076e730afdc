// Everything of one column, in its own axes.
#pragma once

#include <cstddef>
#include <vector>

#include "model/score.h"
#include "page/columns.h"
#include "page/drawing.h"
#include "page/labels.h"
#include "page/signs.h"
#include "page/strip.h"

namespace yubifu::page {

/// What holds for the whole score.
struct Music {
  const model::Score& score;
  const Strip& strip;
  const std::vector<Label>& labels;
  std::vector<bool> fermata_signs;  ///< for each note, whether its fermata needs the sign
};

/// All that drawing needs of a score; the three must outlive it.
Music music_of(const model::Score& score, const Strip& strip, const std::vector<Label>& labels);

/// All items of a column. Signs carry the index of their piece as their bar, texts do not.
std::vector<Item> draw_column(const Music& music, const Place& place, const Column& column,
                              const std::vector<PlacedLabel>& labels);

/// The fingering text of a piece, unseen over its signs.
std::vector<Item> draw_words(const Music& music, const Place& place, const Piece& piece);

/// Beams and brackets of a piece.
std::vector<Item> draw_groups(const Music& music, const Place& place, const Piece& piece);

/// The line before a piece that begins a column, or between it and the piece before it.
std::vector<Item> draw_bar_lines(const Music& music, const Place& place, const Column& column,
                                 std::size_t piece);

/// Slurs and slides of a column, those that come from the column before or go on included.
std::vector<Item> draw_slurs(const Music& music, const Place& place, const Column& column);

/// The lines of the endings in a column, each with its numbers and hooks where it begins and stops.
std::vector<Item> draw_endings(const Music& music, const Place& place, const Column& column);

/// Song text and sung syllables of a piece.
std::vector<Item> draw_song(const Music& music, const Place& place, const Piece& piece);

/// From the start of a cell to the end of the last cell after it that holds the same note in the
/// piece.
Stretch extent_of_note(const Bar& bar, const Piece& piece, std::size_t cell);

}  // namespace yubifu::page
