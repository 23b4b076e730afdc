// The <notations> of one <note>. Shows pugixml.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include <pugixml.hpp>

#include "model/score.h"

namespace yubifu::musicxml {

/// Marks as a set of bits, in the order of the enumeration.
class MarkSet {
 public:
  void add(model::Mark mark) { bits_ |= bit(mark); }
  void add(MarkSet other) { bits_ |= other.bits_; }
  bool has(model::Mark mark) const { return (bits_ & bit(mark)) != 0; }
  bool empty() const { return bits_ == 0; }
  std::vector<model::Mark> list() const;

 private:
  static std::uint32_t bit(model::Mark mark) { return 1u << static_cast<unsigned>(mark); }

  std::uint32_t bits_ = 0;
};

struct NoteDetails {
  MarkSet marks;  ///< suri where a slide or glissando starts
  bool tied_starts = false;
  bool tied_stops = false;
  bool has_caesura = false;
  std::vector<std::string> slur_starts;  ///< numbers of slurs
  std::vector<std::string> slur_stops;
  std::vector<pugi::xml_node> dynamics;    ///< <dynamics>
  std::vector<pugi::xml_node> fingerings;  ///< <technical><fingering>
  std::vector<pugi::xml_node> left_out;    ///< elements with no place in the score
};

/// Reads all <notations> from the first one of a note on; a null node gives nothing. What only
/// shows what the durations say (tuplet brackets) is not among the left out.
NoteDetails read_notations(pugi::xml_node first);

/// The level that a <dynamics> prints: "mf", "sfz p"; empty without any.
std::string dynamic_level(pugi::xml_node dynamics);

}  // namespace yubifu::musicxml
