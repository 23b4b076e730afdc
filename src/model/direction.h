// Directions: what is said at a place of a score, their words and their values as texts. One table
// that every format asks.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/source_text.h"
#include "model/flute_name.h"
#include "model/meter.h"
#include "model/pitch.h"
#include "model/rational.h"

namespace yubifu::model {

/// A tempo from its place on.
struct TempoChange {
  static constexpr std::string_view kWord = "tempo";
  Tempo tempo;
  friend bool operator==(const TempoChange&, const TempoChange&) = default;
};

/// A change of what one word lasts inside a measure, from the end of the word in which it stands
/// on; at the start of a measure it is Measure::beat.
struct BeatChange {
  static constexpr std::string_view kWord = "beat";
  Rational beat;
  friend bool operator==(const BeatChange&, const BeatChange&) = default;
};

/// A sounding key from its place on.
struct KeyChange {
  static constexpr std::string_view kWord = "key";
  Key key;
  friend bool operator==(const KeyChange&, const KeyChange&) = default;
};

/// Only at the start of a measure.
struct FluteChange {
  static constexpr std::string_view kWord = "flute";
  FluteName flute;
  friend bool operator==(const FluteChange&, const FluteChange&) = default;
};

/// A section begins (at the start of a measure).
struct SectionStart {
  static constexpr std::string_view kWord = "section";
  std::string name;
  friend bool operator==(const SectionStart&, const SectionStart&) = default;
};

/// Words for the player that mean nothing to this program.
struct TextDirection {
  static constexpr std::string_view kWord = "text";
  std::string text;
  friend bool operator==(const TextDirection&, const TextDirection&) = default;
};

/// "mf", "pp" …
struct Dynamic {
  static constexpr std::string_view kWord = "dyn";
  std::string level;
  friend bool operator==(const Dynamic&, const Dynamic&) = default;
};

/// Directions that are a word without a value; at the end of a measure their onset is its length.
enum class Cue {
  segno,
  coda,
  fine,
  da_capo,
  dal_segno,
  to_coda,
  until_cue,
  rit,
  accel,
  a_tempo,
  caesura,
};

using DirectionValue = std::variant<TempoChange, BeatChange, KeyChange, FluteChange, SectionStart,
                                    TextDirection, Dynamic, Cue>;

struct Direction {
  std::size_t measure = 0;
  Rational onset;  ///< 0 to the measure's length, both included
  DirectionValue value;
  base::SourceRange source;
};

/// At its start, strictly inside, at its end, or at any place from start to end.
enum class PlaceInMeasure { start, inside, end, anywhere };
/// Of `one`, a second at the same place would undo the first.
enum class AtOnePlace { one, many };

/// What all directions of one word have in common.
struct DirectionKind {
  std::string_view word;
  PlaceInMeasure place;
  AtOnePlace at_one_place;
};

/// The kind of a value or word. A beat at the start of a measure is no direction (Measure::beat).
DirectionKind kind_of(const DirectionValue& value);
std::optional<DirectionKind> direction_kind(std::string_view word);

/// "tempo", "dyn" … or the word of a cue: "segno", "dc" …
std::string_view word_of(const DirectionValue& value);
std::string_view word_of(Cue cue);
std::optional<Cue> cue_named(std::string_view word);
/// Every word, those of cues last.
std::vector<std::string_view> direction_words();

/// True for what holds on and the header may say as well: a change of tempo, key or flute.
bool holds_on(const DirectionValue& value);

/// The value as text: "1/4=76" (a tempo is exact), "3/8", "D minor", "mf"; empty for a cue.
std::string value_text(const DirectionValue& value);
/// The direction of a word and the text of its value (none for a cue); nothing for an unknown word
/// and for another text. A tempo without a unit counts `tempo_unit`.
std::optional<DirectionValue> parse_direction(std::string_view word, const std::string& text,
                                              Rational tempo_unit);

/// The text of a section, a text or a dynamic, which may be any; null for the other kinds.
const std::string* free_text(const DirectionValue& value);

/// What is printed for a cue: "Fine", "D.C.", "rit."; empty for the signs of segno and coda.
std::string_view printed(Cue cue);

/// What a dynamic does.
struct DynamicMeaning {
  std::optional<int> steps;  ///< the level from there on, in steps from mf
  bool forced = false;       ///< its note, or the next one after a hold or rest, is struck harder
};

/// pppppp to ffffff; sf, sfz, sffz, fz, rf, rfz for one note; fp, sfp, sfzp, sfpp, which go on
/// softly. Nothing for other words, also for n and pf, which say no level.
std::optional<DynamicMeaning> dynamic_meaning(std::string_view level);
/// Every usual word, those without a meaning included.
std::vector<std::string_view> dynamic_words();

}  // namespace yubifu::model
