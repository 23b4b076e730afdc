// The parts of a staff file, in the same form for partwise and timewise scores. Shows pugixml.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "base/diagnostic.h"

namespace yubifu::musicxml {

/// One measure of one part.
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

/// Limits that no music reaches; a part may have so many measures.
inline constexpr std::size_t kMostMeasures = 200'000;
/// Measures times parts: a timewise score can leave parts out of its measures.
inline constexpr std::size_t kMostPartMeasures = 4'000'000;

/// All parts in the order of the music, each with all its measures. The part list only gives
/// names; it may be missing. `text` is what the root was parsed from. Reports `no-measures` and
/// `staff-limits`.
base::Outcome<std::vector<PartSource>> find_parts(pugi::xml_node root, std::string_view text);

/// How messages call a part: "part 'Flute' (P1)", or "part 2" without name and id.
std::string part_title(const std::vector<PartSource>& parts, std::size_t index);

}  // namespace yubifu::musicxml
