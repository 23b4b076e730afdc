// The score: what every reader makes and every writer takes. All times are in quarter notes.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/source_text.h"
#include "model/fingering.h"
#include "model/flute_name.h"
#include "model/meter.h"
#include "model/pitch.h"
#include "model/rational.h"

namespace yubifu::model {

/// How the staff shows the pitches: every flute with 一 as C4, or as it sounds.
enum class StaffMode { in_c, sounding };

/// What the sign 0 means: the cross-fingering a whole tone under 1, or (some groups) the tube
/// tone. In a score read with `tube` the notes already hold 筒; the header only remembers it.
enum class ZeroSign { cross, tube };

/// A header line whose key nobody knows, kept as it stood.
struct HeaderField {
  std::string key;
  std::string value;

  friend bool operator==(const HeaderField&, const HeaderField&) = default;
};

struct Header {
  std::string title;
  std::string subtitle;
  std::string composer;
  std::string lyricist;
  std::string source;
  std::string rights;
  std::optional<FluteName> flute;
  std::optional<double> tuning_hz;  ///< A4; 440 where absent
  Meter meter;                      ///< that of the first measure
  std::optional<Rational> beat;     ///< only where it differs from the meter's default
  std::optional<Tempo> tempo;
  std::optional<Key> key;  ///< the sounding key
  std::optional<StaffMode> staff;
  ZeroSign zero = ZeroSign::cross;
  std::vector<HeaderField> unknown;
  std::vector<std::string> comments;  ///< without the # and the space after it

  friend bool operator==(const Header&, const Header&) = default;
};

/// Marks on one note (or, the first three, on a rest). `{pre}`, `{post}` and `{holes}` carry
/// values and are members of Note.
enum class Mark {
  fermata,
  breath,
  optional_breath,
  uchi,
  age,
  suri,
  yuri,
  trill,
  accent,
  staccato,
  tenuto,
};

/// One pitch under the fingers. Readers fill in what their format says; `fingering/` resolves
/// the rest for a flute.
struct Tone {
  /// Absent: not yet fingered. Present without a sign: a gap, which stays one.
  std::optional<Fingering> fingering;
  std::optional<Pitch> pitch;        ///< as it sounds, bend included
  std::optional<Spelling> spelling;  ///< of the sounding pitch; a gap always has one
  std::optional<HolePattern> holes;  ///< the pattern that the flute's table gives

  friend bool operator==(const Tone&, const Tone&) = default;
};

enum class SyllableKind { single, begin, middle, end };

/// Song text on one note. The verse is "1", "2" … or "shoga", the sung syllables of the part.
struct Syllable {
  std::string verse = "1";
  std::string text;  ///< empty where the syllable before is carried on
  SyllableKind kind = SyllableKind::single;
  bool extends = false;  ///< this note carries on the syllable of an earlier one

  friend bool operator==(const Syllable&, const Syllable&) = default;
};

struct Note {
  std::size_t measure = 0;  ///< index of the measure in which it starts
  Rational onset;           ///< from the start of that measure
  Rational duration;        ///< may reach into later measures (ties)
  Tone tone;
  std::optional<HolePattern> asked_holes;  ///< {holes …}: the pattern asked for this note
  std::vector<Mark> marks;                 ///< in the order of the enumeration, each once
  std::vector<Tone> grace_before;
  std::vector<Tone> grace_after;
  bool slur_to_next = false;
  std::vector<Syllable> syllables;  ///< at most one a verse, in the order of Score::verses
  base::SourceRange source;

  bool has(Mark mark) const;
};

/// A rest is written down only where it carries marks; elsewhere it is the absence of notes. It
/// lasts until the next note, marked rest or direction, at most to the end of its measure.
struct Rest {
  std::size_t measure = 0;
  Rational onset;
  std::vector<Mark> marks;
  base::SourceRange source;
};

struct TempoChange {
  Tempo tempo;
  friend bool operator==(const TempoChange&, const TempoChange&) = default;
};

/// A change of what one word lasts inside a measure, from the end of the word in which it stands
/// on; at the start of a measure it is Measure::beat.
struct BeatChange {
  Rational beat;
  friend bool operator==(const BeatChange&, const BeatChange&) = default;
};

struct KeyChange {
  Key key;
  friend bool operator==(const KeyChange&, const KeyChange&) = default;
};

/// Only at the start of a measure.
struct FluteChange {
  FluteName flute;
  friend bool operator==(const FluteChange&, const FluteChange&) = default;
};

/// A section begins (at the start of a measure).
struct SectionStart {
  std::string name;
  friend bool operator==(const SectionStart&, const SectionStart&) = default;
};

struct TextDirection {
  std::string text;
  friend bool operator==(const TextDirection&, const TextDirection&) = default;
};

/// "mf", "pp" …
struct Dynamic {
  std::string level;
  friend bool operator==(const Dynamic&, const Dynamic&) = default;
};

/// Directions that are a word without a value. Segno and coda stand at the start of a measure,
/// fine to until_cue at its end (onset = the measure's length), the others anywhere.
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

/// The line at the end of a measure.
enum class BarStyle { regular, section, final };

/// Where the author broke the line before a measure.
enum class LineBreak { none, line, blank_line };

/// A comment after a measure: on the same line, or on a line of its own.
struct Comment {
  std::string text;  ///< without the # and the space after it
  bool own_line = true;

  friend bool operator==(const Comment&, const Comment&) = default;
};

struct Measure {
  std::string number;  ///< as printed; a short first measure is 0
  Rational length;     ///< what the notes and rests really fill
  Meter meter;
  Rational beat = 1;       ///< what one word lasts at its start
  bool irregular = false;  ///< shorter or longer than its meter without one of the usual reasons
  bool repeat_start = false;
  bool repeat_end = false;
  int times = 2;  ///< how often a repeat that ends here is played
  BarStyle right = BarStyle::regular;
  std::vector<int> ending;  ///< numbers of the ending this measure belongs to; empty outside
  LineBreak break_before = LineBreak::none;
  std::vector<Comment> comments;
  base::SourceRange source;
};

/// A flute in use from a place on, with the pitch of 一.
struct FluteInUse {
  std::size_t measure = 0;
  FluteName name = kDefaultFluteSize;
  std::string title;  ///< how people call it: "6" or the name in the flute file
  Pitch ichi;         ///< the sounding pitch of 一
  double tuning_hz = 440;
};

struct Score {
  Header header;
  std::vector<FluteInUse> flutes;  ///< in order; filled by fingering/ or the score JSON reader
  std::vector<Measure> measures;
  std::vector<Note> notes;            ///< in order of measure and onset; they never overlap
  std::vector<Rest> rests;            ///< in order
  std::vector<Direction> directions;  ///< in order of measure and onset, then as written
  std::vector<std::string> verses;    ///< the names in use, in order: "1", "2", "shoga"
};

/// True when an ending begins at this measure: it has numbers, and the measure before has others
/// or closed its ending with a repeat, a section bar or the final bar.
bool ending_starts(const Score& score, std::size_t measure);

/// True when the ending of this measure ends with it (also at the last measure).
bool ending_stops(const Score& score, std::size_t measure);

/// True when a measure shorter than its meter needs no word: it is the first, or a repeat, a
/// section or final bar, a new meter or a new ending stands at its start or end.
bool may_be_short(const Score& score, std::size_t measure);

/// True when a measure is longer than its meter, or shorter and not `may_be_short`: exactly there
/// `Measure::irregular` stands.
bool needs_irregular(const Score& score, std::size_t measure);

/// True when a measure that is not a whole number of beats has its incomplete word first: a short
/// first measure, or the one after a repeat sign inside a bar.
bool fraction_comes_first(const Score& score, std::size_t measure);

/// True for "1", "2" … and "shoga".
bool is_verse_name(std::string_view name);

/// The verses that have syllables, in order: by number, then shoga.
std::vector<std::string> verses_in_use(const Score& score);

/// Gives the measures their printed numbers: 0 for a short first one, then counting up; the rest
/// of a bar that a repeat sign parts takes the number of its first half.
void number_measures(Score& score);

/// One spelling for what could stand in the header or at the very start of the music: meter,
/// beat, tempo, key and flute of the first measure's start go to the header. Every reader calls
/// it.
void gather_start_into_header(Score& score);

}  // namespace yubifu::model
