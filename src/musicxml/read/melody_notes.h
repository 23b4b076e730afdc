// The notes and rests of the chosen voice: chords reduced to their highest note, ties joined,
// grace notes with their main notes. Shows pugixml.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "model/score.h"
#include "musicxml/read/bar_map.h"
#include "musicxml/read/remarks.h"

namespace yubifu::musicxml {

/// A tone of a main note, or of a grace note before or after it. Small: each note of a file has
/// one.
struct ToneRef {
  enum class Place : std::uint32_t { main, before, after };

  std::uint32_t note = 0;
  std::uint32_t index : 30 = 0;  ///< of the grace note
  Place place : 2 = Place::main;
};

/// A note of the file that a tone of the score was read from, with all that stands at it.
struct ToneSource {
  ToneRef tone;
  std::uint32_t note : 31 = 0;    ///< index into the notes of the part
  std::uint32_t is_held : 1 = 0;  ///< a later note of a tie
};

struct MelodyNotes {
  std::vector<model::Note> notes;
  std::vector<model::Rest> rests;
  std::vector<model::Direction> directions;  ///< dynamics and caesuras on notes
  std::vector<ToneSource> sources;           ///< in the order of `notes`
  Remarks remarks;
  /// The measure of the file whose durations could not be added up; reading stopped there.
  std::optional<std::size_t> overflow;
};

MelodyNotes read_melody(const StaffContext& context, const StaffAttributes& attributes);

/// The tone itself; the reference must hold.
model::Tone& tone_of(std::vector<model::Note>& notes, const ToneRef& ref);

}  // namespace yubifu::musicxml
