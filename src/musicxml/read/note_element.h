// One <note> as it stands: what every part needs of it, read once; and its <notations>, which are
// read later, for the voice that is chosen, as song text is. Shows pugixml.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "model/pitch.h"
#include "model/rational.h"
#include "model/score.h"

namespace yubifu::musicxml {

enum class NoteKind : std::uint8_t { pitched, rest, unpitched, unreadable };

/// A pitch as written, before any transposition.
struct WrittenPitch {
  model::Step step = model::Step::c;
  int octave = 4;
  double alter = 0;  ///< semitones; fractions are microtones
};

/// What a note says about its length.
struct NoteTiming {
  std::string_view duration;
  std::string_view type;
  int dots = 0;
  std::string_view actual_notes;
  std::string_view normal_notes;
};

struct NoteElement {
  pugi::xml_node node;
  pugi::xml_node notations;  ///< the first one
  WrittenPitch pitch;
  std::uint32_t begin = 0;        ///< where it begins in its text, in bytes
  std::uint32_t voice = 0;        ///< index into the voices of its part
  std::uint32_t first_lyric = 0;  ///< index into the lyrics of its part
  std::uint32_t lyric_count = 0;
  int staff = 1;
  NoteKind kind = NoteKind::unreadable;
  bool has_unknown = false;    ///< a child that MusicXML does not know
  bool has_time_only = false;  ///< not played each time of a repeat
  bool is_grace = false;
  bool is_cue = false;
  bool is_chord = false;
  bool fills_bar = false;  ///< a rest with measure="yes"
  bool tie_starts = false;
  bool tie_stops = false;

  /// A main note with a pitch that no tie carries on.
  bool is_struck() const { return kind == NoteKind::pitched && !is_cue && !is_grace && !tie_stops; }
};

/// A note with what nobody asks for once it is placed.
struct NoteReading {
  NoteElement element;  ///< voice and lyrics are not yet indexes
  NoteTiming timing;
  pugi::xml_node lyric;  ///< the first one
  std::string_view voice = "1";
};

/// Texts point into the document.
NoteReading read_note(pugi::xml_node note);

/// The first child of a note that MusicXML does not know; null without one.
pugi::xml_node unknown_child(pugi::xml_node note);

/// How the length of a note came about.
enum class LengthSource : std::uint8_t {
  duration,  ///< as its duration says
  rounded,   ///< as type and ratio say; the duration differs by less than one division
  type,      ///< as its type says, for want of a usable duration
  none,      ///< neither says anything
};

struct NoteLength {
  model::Rational quarters;
  LengthSource source = LengthSource::none;
};

/// The length of a note in these divisions a quarter. May throw model::TimeOverflow.
NoteLength length_of(const NoteTiming& timing, model::Rational divisions);

/// What type, dots and ratio say; nothing without a known type.
std::optional<model::Rational> written_length(const NoteTiming& timing);

/// A number of divisions: a decimal, as MusicXML allows.
std::optional<model::Rational> divisions_in(std::string_view text);

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
  bool has_trill = false;
  std::vector<std::string> slur_starts;  ///< numbers of slurs
  std::vector<std::string> slur_stops;
  std::vector<pugi::xml_node> dynamics;  ///< <dynamics>
  std::vector<pugi::xml_node> left_out;  ///< elements with no place in the score
};

/// Reads all <notations> from the first one of a note on; a null node gives nothing. What only
/// shows what the durations say (tuplet brackets) is not among the left out, nor are fingerings.
NoteDetails read_notations(pugi::xml_node first);

/// The level that a <dynamics> prints: "mf", "sfz p"; empty without any.
std::string dynamic_level(pugi::xml_node dynamics);

}  // namespace yubifu::musicxml
