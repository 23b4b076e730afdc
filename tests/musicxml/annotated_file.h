// Staff files annotated for tests.
#pragma once

#include <string>
#include <vector>

#include "model/flute_name.h"
#include "musicxml/annotator.h"
#include "musicxml/reader.h"

namespace yubifu::musicxml {

/// What came of annotating: the bytes, empty after an error, and "rule" of each finding.
struct Annotated {
  std::string bytes;
  std::vector<std::string> rules;
};

/// Annotates as the program does, for a flute of this size and moved by the octaves; the file must
/// be readable.
Annotated annotated_with_findings(const std::string& bytes, const AnnotateOptions& options = {},
                                  model::FluteSize flute = {7, 0},
                                  const MusicXmlReadOptions& reading = {});

/// The bytes alone; a test fails when there are none.
std::string annotated(const std::string& bytes, const AnnotateOptions& options = {},
                      model::FluteSize flute = {7, 0}, const MusicXmlReadOptions& reading = {});

/// The bytes without the annotation.
std::string bare(const std::string& bytes);

}  // namespace yubifu::musicxml
