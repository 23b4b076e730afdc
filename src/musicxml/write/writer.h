// Writes a score as a MusicXML 4.0 partwise document.
#pragma once

#include <optional>
#include <string>

#include "base/diagnostic.h"
#include "model/score.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {

/// Clefs of a flute's staff: treble, or treble with an 8 above it.
enum class Clef { treble, treble8 };

/// Whether `<alter>` holds whole semitones only or the cents as well.
enum class Alterations { whole, exact };

struct MusicXmlWriteOptions {
  Annotation annotation = Annotation::lyric;
  bool strokes = false;                   ///< held beats as strokes after the fingering
  bool holes = false;                     ///< one `<hole>` a finger hole
  std::optional<model::StaffMode> staff;  ///< otherwise the header's, otherwise in C
  std::optional<Clef> clef;               ///< of a sounding staff; otherwise fewer ledger lines
  Alterations alterations = Alterations::whole;
};

/// The score must be resolved: every tone has its pitch, and the flutes in use are known. The
/// document is in UTF-8 and valid against the XSD of MusicXML 3.0 and 4.0. Comments are left out
/// with one note. Errors: a tone without a pitch or outside the octaves 0 to 9, no flute, a bar
/// too fine to be written.
base::Outcome<std::string> write_musicxml(const model::Score& score,
                                          const MusicXmlWriteOptions& options);

}  // namespace yubifu::musicxml
