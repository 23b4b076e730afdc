// Adds the fingering to an existing staff score, in place: every byte that was there stays, and
// what was added can be taken out again.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"
#include "musicxml/vocabulary.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/xml/document_text.h"

namespace yubifu::musicxml {

/// A staff file as it is without our annotation. Places in a score that was read from its text
/// count in `document.text`.
struct BareFile {
  DocumentText document;
  std::string container;  ///< the bytes of the compressed file around it; empty if there is none
  bool was_annotated = false;
  // Of the annotation that it had:
  std::optional<model::FluteName> flute;
  std::optional<PartOctaves> octaves;
};

/// Opens a staff file, plain or compressed. Reports what `xml_text` reports, and
/// `encoding-not-kept` where its text cannot be written back byte for byte.
base::Outcome<BareFile> open_bare(std::string bytes);

struct AnnotateOptions {
  Annotation kind = Annotation::lyric;  ///< not none
  bool strokes = false;                 ///< held beats as strokes after the fingering
  bool holes = false;                   ///< one `<hole>` a finger hole
  int octaves = 0;  ///< by which the fingering lies over the notes; remembered in the file
};

/// The bytes of the file with the fingering of every note of the score beside the `<note>` that it
/// was read from (of a chord its first one), and with fields in its header that say so. The score
/// must have been read from this file and be resolved. Grace notes, rests and later notes of a tie
/// get nothing; lyrics take the verse after the last one of the part. In a compressed file the
/// other entries keep their bytes. Reports `already-fingered`.
base::Outcome<std::string> annotate(const BareFile& file, const model::Score& score,
                                    const AnnotateOptions& options);

/// By how many octaves the annotation that the file had lay over the notes that this score was read
/// from; nothing if it had none, or moved that of another part.
std::optional<int> earlier_octaves(const BareFile& file, const model::Score& score);

/// The bytes of the file itself; for one that was not annotated, those that were opened.
base::Outcome<std::string> bytes_of(const BareFile& file);

/// A text in the place of the bytes [begin, end), where either may be empty.
struct Change {
  std::size_t begin = 0;
  std::size_t end = 0;
  std::string text;
};

/// The text with the changes, which must not overlap; of several insertions at one place the
/// earlier ones of the list come first.
std::string changed(std::string_view text, std::vector<Change> changes);

/// Whether a finding of the reader matters to the fingers: what a score would lack stays in an
/// annotated file.
bool concerns_annotation(const base::Diagnostic& diagnostic);

}  // namespace yubifu::musicxml
