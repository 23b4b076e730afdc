// <barline>: repeats, endings, double bars. Shows pugixml.
#pragma once

#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "model/score.h"
#include "musicxml/bar_map.h"
#include "musicxml/part_events.h"
#include "musicxml/remarks.h"

namespace yubifu::musicxml {

/// True for a bar line that its location does not put at the start or end of its measure.
bool stands_inside(const PlacedNode& line);

/// True for a repeat, an ending or a double bar: what needs a bar boundary.
bool parts_music(pugi::xml_node barline);

/// Signs on bar lines: the directions are places in the score.
struct BarLineSigns {
  std::vector<model::Direction> directions;  ///< segno and coda
  Remarks remarks;                           ///< by measures of the file
};

/// Sets repeats, times, endings and styles of the measures.
BarLineSigns apply_bar_lines(const PartEvents& part, const BarMap& map, std::string_view text,
                             std::vector<model::Measure>& measures);

/// The numbers of an ending: "1", "1, 2", "1-3". Empty when there is none.
std::vector<int> ending_numbers(std::string_view text);

}  // namespace yubifu::musicxml
