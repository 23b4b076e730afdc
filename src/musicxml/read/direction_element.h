// One <direction> or <sound> as it stands. Shows pugixml.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <pugixml.hpp>

#include "model/score.h"
#include "musicxml/vocabulary_own.h"

namespace yubifu::musicxml {

struct DirectionElement {
  /// What a text of our own says; then nothing else of the direction is read.
  std::optional<OwnMeaning> own;
  std::optional<pugi::xml_node> unreadable_own;

  std::string words;   ///< all words, also those of unknown kinds of print
  int word_parts = 0;  ///< how many <words> they stand in
  std::vector<std::string> sections;
  std::vector<std::string> levels;  ///< dynamics
  bool has_segno = false;
  bool has_coda = false;
  std::optional<model::Tempo> metronome;
  std::optional<model::Rational> sound_tempo;  ///< quarters a minute
  std::vector<model::Cue> sound_cues;          ///< what <sound> plays
  bool repeats_from_here = false;              ///< a forward repeat that is only played
  std::vector<pugi::xml_node> left_out;        ///< kinds of directions with no place in the score
  std::vector<pugi::xml_node> odd_tempos;      ///< metronome marks that give no number
};

/// Reads either element.
DirectionElement read_direction(pugi::xml_node node);

}  // namespace yubifu::musicxml
