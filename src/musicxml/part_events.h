// One part laid out in time: every note, direction, change of attributes and bar line with its
// measure and its onset in it, in document order. Shows pugixml.
#pragma once

#include <compare>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "base/diagnostic.h"
#include "model/rational.h"
#include "musicxml/note_element.h"
#include "musicxml/part_list.h"
#include "musicxml/part_lyrics.h"
#include "musicxml/remarks.h"

namespace yubifu::musicxml {

/// Limits that no music reaches.
inline constexpr std::size_t kMostNotes = 2'000'000;

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
