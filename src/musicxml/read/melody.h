// The melody of the chosen voice: its notes and rests (chords reduced to their highest note, ties
// joined, grace notes with their main notes); the directions, those of the part that is read, and
// of the other parts what holds for the whole file (tempo, sections, jumps), which scores print
// once on top; and what stands at the notes: fingerings, also those of annotate, and song text.
// Shows pugixml.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/score.h"
#include "musicxml/read/bar_map.h"
#include "musicxml/read/part_events.h"
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

struct AnnotationText {
  model::Fingering fingering;
  std::optional<model::Spelling> gap;  ///< of a gap: its sounding pitch
  bool has_strokes = false;
};

/// Reads a sign with half hole and bend (also one that only a flute file defines: a character with
/// its combining marks), or a gap such as `?F#4↓20`, and passes over strokes behind them. Nothing
/// for any other text.
std::optional<AnnotationText> parse_annotation(std::string_view text);

/// True for a `<direction>` that annotate has written, if the file says that it was annotated.
bool is_annotation_direction(pugi::xml_node direction);

/// True for a child of a `<technical>` in such a `<notations>`.
bool is_in_annotation(pugi::xml_node technical_child);

struct NoteTexts {
  std::vector<std::string> verses;  ///< their names, in order
  /// Fingerings that were written with strokes, by the main note that they stand at.
  std::map<std::size_t, PlacedText> stroked;
};

/// Gives the notes the fingerings, asked hole patterns and syllables that stand at their sources.
NoteTexts add_note_texts(MelodyNotes& melody, const ScoreDirections& directions,
                         const StaffContext& context);

}  // namespace yubifu::musicxml
