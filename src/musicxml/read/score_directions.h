// The directions of the score: those of the part that is read, and of the other parts what holds
// for the whole file (tempo, sections, jumps), which scores print once on top. Shows pugixml.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/score.h"
#include "musicxml/read/bar_map.h"
#include "musicxml/read/melody_choice.h"
#include "musicxml/read/melody_notes.h"
#include "musicxml/read/part_events.h"
#include "musicxml/read/remarks.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {

/// A fingering with its place in the file.
struct PlacedText {
  std::size_t measure = 0;
  pugi::xml_node node;
  std::string text;
};

struct ScoreDirections {
  std::vector<model::Direction> directions;               ///< not yet sorted
  std::vector<std::pair<Moment, model::Rational>> beats;  ///< changes of beat, in the score
  std::vector<std::pair<std::size_t, model::BarStyle>> bar_styles;  ///< at the ends of bars
  std::vector<std::size_t> repeat_starts;                           ///< bars
  /// Hole patterns for the next note, by its index in the part.
  std::vector<std::pair<std::size_t, model::HolePattern>> holes;
  /// Fingerings in a <words> before the next note, by its index in the part.
  std::vector<std::pair<std::size_t, PlacedText>> fingerings;
  std::vector<Moment> own_places;  ///< where a text of our own stands, in the file; rising
  Remarks remarks;
};

/// `notes` are those of the melody, in the bars of `measures`.
ScoreDirections read_directions(const StaffContext& context,
                                const std::vector<model::Measure>& measures,
                                const std::vector<model::Note>& notes);

}  // namespace yubifu::musicxml
