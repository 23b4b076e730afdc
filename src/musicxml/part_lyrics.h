// The lyrics of a part: each <lyric> as it stands, and which line of text it belongs to. Shows
// pugixml.
#pragma once

#include <cstdint>
#include <deque>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <pugixml.hpp>

#include "model/note.h"

namespace yubifu::musicxml {

/// What follows a syllable, or carries an earlier one on.
enum class Extension : std::uint8_t {
  none,
  untyped,    ///< reaches to the next syllable or rest (before MusicXML 3.0)
  starts,     ///< behind a syllable; the notes it reaches say so themselves
  continues,  ///< on a note that carries the syllable on
};

struct LyricElement {
  pugi::xml_node node;
  std::string_view text;   ///< with all its syllables; points into the document or the PartLyrics
  std::uint32_t line = 0;  ///< index into PartLyrics::lines
  model::SyllableKind kind = model::SyllableKind::single;
  Extension extension = Extension::none;
  bool is_wordless = false;       ///< humming or laughing
  bool has_unknown_kind = false;  ///< a `<syllabic>` that MusicXML does not know
};

/// What the lyrics of one line of text say of themselves; empty where they do not.
struct LyricLine {
  std::string_view name;
  std::string_view number;
};

class PartLyrics {
 public:
  PartLyrics() = default;
  PartLyrics(PartLyrics&&) = default;
  PartLyrics& operator=(PartLyrics&&) = default;

  /// Adds the lyrics of a note from its first one on; a null node adds none.
  void add(pugi::xml_node first);

  const std::vector<LyricElement>& all() const { return all_; }
  const std::vector<LyricLine>& lines() const { return lines_; }

 private:
  LyricElement read(pugi::xml_node lyric);
  std::uint32_t line_of(pugi::xml_node lyric);
  std::string_view text_in(pugi::xml_node text);
  std::string_view kept(std::string text);

  std::vector<LyricElement> all_;
  std::vector<LyricLine> lines_;
  std::map<std::pair<std::string_view, std::string_view>, std::uint32_t> index_;
  std::deque<std::string> joined_;  // texts that do not stand in the document in one piece
};

/// The `<syllabic>` of a lyric that MusicXML does not know; empty without one.
std::string_view unknown_kind(pugi::xml_node lyric);

}  // namespace yubifu::musicxml
