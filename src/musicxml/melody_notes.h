// The notes and rests of the chosen voice: chords reduced to their highest note, ties joined,
// grace notes with their main notes. Shows pugixml.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/score.h"
#include "musicxml/bar_map.h"
#include "musicxml/lyric_element.h"
#include "musicxml/melody_choice.h"
#include "musicxml/remarks.h"
#include "musicxml/staff_attributes.h"

namespace yubifu::musicxml {

/// A tone of the score: of a main note, or of a grace note before or after it.
struct ToneRef {
  enum class Place { main, before, after };

  std::size_t note = 0;
  Place place = Place::main;
  std::size_t index = 0;  ///< of the grace note
};

/// Something written on a tone, with the measure of the file for remarks.
struct PlacedLyric {
  ToneRef tone;
  std::size_t measure = 0;
  LyricElement lyric;
  bool is_held = false;  ///< on a later note of a tie
};

struct PlacedFingering {
  ToneRef tone;
  std::size_t measure = 0;
  pugi::xml_node node;
};

/// A fingering as it was written, strokes included, on a main note.
struct WrittenFingering {
  std::size_t note = 0;
  std::size_t measure = 0;
  pugi::xml_node node;
  std::string text;
};

struct MelodyNotes {
  std::vector<model::Note> notes;
  std::vector<model::Rest> rests;
  std::vector<model::Direction> directions;  ///< dynamics and caesuras on notes
  std::vector<PlacedLyric> lyrics;           ///< in the order of the notes
  std::vector<PlacedFingering> fingerings;   ///< <technical><fingering>
  std::vector<WrittenFingering> written;     ///< filled by add_note_texts
  /// Which tone each note of the part became, by its index there; rising.
  std::vector<std::pair<std::size_t, ToneRef>> tones;
  Remarks remarks;
  /// The measure of the file whose durations could not be added up; reading stopped there.
  std::optional<std::size_t> overflow;
};

struct MelodyContext {
  const PartEvents& part;
  const VoiceId& voice;
  const StaffAttributes& attributes;
  const BarMap& map;
  bool is_ours = false;       ///< hole diagrams are print of the fingering then
  bool is_annotated = false;  ///< and those of the annotation here
  std::string_view text;
};

MelodyNotes read_melody(const MelodyContext& context);

/// The tone itself; the reference must hold.
model::Tone& tone_of(std::vector<model::Note>& notes, const ToneRef& ref);

}  // namespace yubifu::musicxml
