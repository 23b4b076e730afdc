// One <lyric> as it stands. Shows pugixml.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include <pugixml.hpp>

#include "model/score.h"

namespace yubifu::musicxml {

/// What follows a syllable, or carries an earlier one on.
enum class Extension {
  none,
  untyped,    ///< reaches to the next syllable or rest (before MusicXML 3.0)
  starts,     ///< behind a syllable; the notes it reaches say so themselves
  continues,  ///< on a note that carries the syllable on
};

struct LyricElement {
  std::string text;
  model::SyllableKind kind = model::SyllableKind::single;
  Extension extension = Extension::none;
  bool is_wordless = false;  ///< humming or laughing
  /// A `<syllabic>` that MusicXML does not know.
  std::optional<std::string_view> unknown_kind;
};

LyricElement read_lyric(pugi::xml_node lyric);

}  // namespace yubifu::musicxml
