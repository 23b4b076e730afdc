// The parts of a staff file, partwise or timewise, and one part laid out in time: every note,
// direction, change of attributes and bar line with its measure and onset, in document order, and
// the lyrics as they stand, each with its line of text. Shows pugixml.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include <pugixml.hpp>

#include "base/diagnostic.h"
#include "model/note.h"
#include "model/rational.h"
#include "musicxml/read/note_element.h"
#include "musicxml/read/remarks.h"

namespace yubifu::musicxml {

struct MeasureSource {
  pugi::xml_node measure;  ///< the <measure>, with its number
  pugi::xml_node content;  ///< what holds the notes; null where a timewise measure lacks the part
};

struct PartSource {
  std::string id;
  std::string name;  ///< <part-name>; empty without one
  /// What else the part list calls it: as it is printed, abbreviated, and by its instrument.
  std::vector<std::string> other_names;
  std::vector<MeasureSource> measures;
};

/// All parts in the order of the music, each with all its measures. The part list, which gives
/// names, may be missing. `text` was parsed to the root. Reports `no-measures` and `staff-limits`.
base::Outcome<std::vector<PartSource>> find_parts(pugi::xml_node root, std::string_view text);

/// How messages call a part: "part 'Flute' (P1)", or "part 2" without name and id.
std::string part_title(const std::vector<PartSource>& parts, std::size_t index);

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

  friend bool operator==(const LyricLine&, const LyricLine&) = default;
  auto order() const { return std::tie(name, number); }
  friend bool operator<(const LyricLine& a, const LyricLine& b) { return a.order() < b.order(); }
};

class PartLyrics {
 public:
  /// Adds the lyrics of a note from its first one on; a null node adds none.
  void add(pugi::xml_node first);

  const std::vector<LyricElement>& all() const { return all_; }
  const std::vector<LyricLine>& lines() const { return lines_; }

 private:
  LyricElement read(pugi::xml_node lyric);
  std::uint32_t line_of(pugi::xml_node lyric);
  std::string_view kept(std::string text);

  std::vector<LyricElement> all_;
  std::vector<LyricLine> lines_;
  std::map<LyricLine, std::uint32_t> index_;
  std::uint32_t last_line_ = 0;
  // Texts that do not stand in the document in one piece; pointed to, hence not to be copied.
  std::vector<std::unique_ptr<std::string>> joined_;
};

/// A place in a part: a measure by its index, and quarters from its start.
struct Moment {
  std::size_t measure = 0;
  model::Rational onset;

  friend auto operator<=>(const Moment&, const Moment&) = default;
};

struct PlacedNote {
  NoteElement element;
  Moment at;
  model::Rational duration;  ///< zero for a grace note and for one without any length
};

struct PlacedNode {
  pugi::xml_node node;
  Moment at;
  std::size_t next_note = 0;      ///< how many notes of the part stood before it
  model::Rational divisions = 1;  ///< of a quarter, for an offset
};

struct MeasureEvents {
  MeasureSource source;
  std::size_t first_note = 0;  ///< index into PartEvents::notes
  /// Where the last note, rest or gap ends; rests for the whole bar do not count.
  model::Rational filled;
  /// What the longest rest for the whole bar says of its length, where there is one.
  std::optional<model::Rational> whole_bar_rest;
};

struct PartEvents {
  std::vector<MeasureEvents> measures;
  std::vector<PlacedNote> notes;
  std::vector<std::string_view> voices;  ///< their names, in the order in which they appear
  PartLyrics lyrics;
  std::vector<PlacedNode> attributes;
  std::vector<PlacedNode> directions;  ///< <direction> and <sound>
  std::vector<PlacedNode> barlines;
  std::vector<PlacedNode> prints;
  std::vector<PlacedNode> others;  ///< chord symbols and elements that MusicXML does not know
  Remarks remarks;                 ///< about durations and positions

  /// The notes of a measure as a range of indexes.
  std::size_t end_of_notes(std::size_t measure) const {
    return measure + 1 < measures.size() ? measures[measure + 1].first_note : notes.size();
  }
};

/// Walks one part. `text` is what it was parsed from. Reports `staff-limits` and `staff-overflow`.
base::Outcome<PartEvents> lay_out(const PartSource& part, std::string_view text);

/// The printed number of a measure; counted from 1 where it has none.
std::string measure_number(const MeasureSource& measure, std::size_t index);

}  // namespace yubifu::musicxml
