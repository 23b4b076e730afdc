// Writes the `<notations>` of a note or rest.
#pragma once

#include <cstddef>
#include <string>

#include "model/rhythm_tree.h"
#include "musicxml/bar_layout.h"
#include "musicxml/writer_context.h"

namespace yubifu::musicxml {

/// A piece and its place in the note or rest that it belongs to.
struct PiecePlace {
  const model::BarSpan& span;
  const BarLayout& layout;
  std::size_t piece = 0;
  bool first = true;  ///< of the whole note, over bars
  bool last = true;

  const Piece& at() const { return layout.pieces[piece]; }
};

/// `fingering` is the annotation when it stands in `<technical>`, otherwise empty. Marks that
/// tell how a note ends stand on its last piece, others on its first; slurs go from first to last.
void write_notations(const WriterContext& context, const PiecePlace& place,
                     const std::string& fingering);

/// The same for a grace note, which has no marks of its own. Writes nothing without a fingering.
void write_grace_notations(const WriterContext& context, const std::string& fingering);

}  // namespace yubifu::musicxml
