// Writes what hangs on a note or rest: its `<notations>`, the fingering under or over it, and its
// song text.
#pragma once

#include <cstddef>
#include <string>

#include "model/rhythm_tree.h"
#include "model/score.h"
#include "musicxml/write/bar_layout.h"
#include "musicxml/write/score_layout.h"

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

/// The text of a tone: its fingering as printed, `?`, spelling and bend for a gap, nothing for a
/// tone without a fingering.
std::string annotation_text(const model::Tone& tone);

/// The `<lyric>` elements of a note: the fingering first, if it is written as one, then the
/// syllables of note `index`.
void write_lyrics(const WriterContext& context, std::size_t index, const std::string& fingering);

/// The fingering of a grace note, if it is written as a lyric.
void write_fingering_lyric(const WriterContext& context, const std::string& fingering);

/// A `<direction>` with the fingering, if it is written as words.
void write_fingering_words(const WriterContext& context, const std::string& fingering);

}  // namespace yubifu::musicxml
