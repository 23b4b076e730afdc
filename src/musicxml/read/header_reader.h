// Title, names, and the fields of our own. Shows pugixml.
#pragma once

#include <optional>
#include <string_view>

#include <pugixml.hpp>

#include "model/score.h"
#include "musicxml/read/remarks.h"
#include "musicxml/vocabulary.h"
#include "musicxml/vocabulary_own.h"

namespace yubifu::musicxml {

struct HeaderReading {
  model::Header header;  ///< without meter and tempo, which stand in the music
  /// A file that we wrote: it says in its own texts what MusicXML has no element for.
  bool is_ours = false;
  /// A file that annotate has added to: its fingerings are marked as such.
  bool is_annotated = false;
  std::optional<Annotation> annotation;
  std::optional<PartOctaves> octaves;  ///< by which annotate has moved the fingering
  Remarks remarks;                     ///< all without a measure
};

HeaderReading read_header(pugi::xml_node root, std::string_view text);

}  // namespace yubifu::musicxml
