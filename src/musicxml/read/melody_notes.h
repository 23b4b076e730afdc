// The notes and rests of the chosen voice: chords reduced to their highest note, ties joined,
// grace notes with their main notes. Shows pugixml.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/score.h"
#include "musicxml/read/bar_map.h"
#include "musicxml/read/melody_choice.h"
#include "musicxml/read/remarks.h"
#include "musicxml/read/staff_attributes.h"

namespace yubifu::musicxml {

/// A tone of the score: of a main note, or of a grace note before or after it. Small, for there is
/// one for every note of the file.
struct ToneRef {
  enum class Place : std::uint32_t { main, before, after };

  std::uint32_t note = 0;
  std::uint32_t index : 30 = 0;  ///< of the grace note
  Place place : 2 = Place::main;

  static ToneRef main(std::size_t note) { return grace(note, Place::main, 0); }
  static ToneRef grace(std::size_t note, Place place, std::size_t index) {
    ToneRef ref;
    ref.note = static_cast<std::uint32_t>(note);
    ref.index = static_cast<std::uint32_t>(index) & 0x3FFFFFFF;
    ref.place = place;
    return ref;
  }
};

/// A <lyric> on a tone, with the measure of the file for remarks.
struct PlacedLyric {
  ToneRef tone;
  std::uint32_t lyric = 0;  ///< index into the lyrics of the part
  std::uint32_t measure : 31 = 0;
  std::uint32_t is_held : 1 = 0;  ///< on a later note of a tie
};

struct PlacedFingering {
  ToneRef tone;
  std::size_t measure = 0;
  pugi::xml_node node;
};

/// A fingering that was written with strokes, on a main note.
struct StrokedFingering {
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
  std::vector<StrokedFingering> stroked;     ///< filled by add_note_texts
  /// Which tone each note of the part became, by its index there; rising.
  std::vector<std::pair<std::uint32_t, ToneRef>> tones;
  Remarks remarks;
  /// The measure of the file whose durations could not be added up; reading stopped there.
  std::optional<std::size_t> overflow;
};

struct MelodyContext {
  const PartEvents& part;
  const MelodyChoice& choice;
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
