// From MusicXML text to a score.
#pragma once

#include <optional>
#include <string>

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "model/score.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {

struct MusicXmlReadOptions {
  /// Id, name or number (from 1) of the part to read; empty: that of the melody, found by rule.
  std::string part;
  /// Voice of that part; empty: the melody, which may go on in another voice where it is silent.
  std::string voice;
  /// Staff of that part, from 1; absent: all of them.
  std::optional<int> staff_number;
  /// Where fingerings stand in the file, against what it says itself; `none` reads no fingering.
  std::optional<Annotation> read_fingering;
};

/// Reads partwise and timewise scores; `source` is text as `xml_text` gives it. One part and one
/// voice become the score, the form and the tempo come from the whole file. Notes have pitch,
/// spelling and source place (their first `<note>`), and a fingering where an annotation says so:
/// a verse of signs that nothing marks is song text here, and `fingering/` may adopt it.
/// Reports the rules of rules.h; what is left out has one warning a kind, with its measures.
base::Outcome<model::Score> read_musicxml(const base::SourceText& source,
                                          const MusicXmlReadOptions& options);

}  // namespace yubifu::musicxml
