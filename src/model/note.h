// Notes and rests, and a tone as text. All times are in quarter notes.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "model/fingering.h"
#include "model/pitch.h"
#include "model/rational.h"

namespace yubifu::model {

/// Marks on one note or rest; `{pre}`, `{post}` and `{holes}` carry values and are members of Note.
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

/// True for the marks that a rest may have as well.
constexpr bool is_rest_mark(Mark mark) {
  return mark == Mark::fermata || mark == Mark::breath || mark == Mark::optional_breath;
}

/// One pitch under the fingers. Readers fill in what their format says, `fingering/` the rest.
struct Tone {
  std::optional<Fingering> fingering;  ///< none: not yet fingered; without a sign: a gap
  std::optional<Pitch> pitch;          ///< as it sounds, bend included
  std::optional<Spelling> spelling;    ///< of the sounding pitch; a gap always has one
  std::optional<HolePattern> holes;    ///< the pattern that the flute's table gives
  friend bool operator==(const Tone&, const Tone&) = default;
};

/// A whole word, or its first part, one inside it or its last.
enum class SyllableKind : std::uint8_t { single, begin, middle, end };

/// True when the word has begun on an earlier note.
constexpr bool continues_word(SyllableKind kind) {
  return kind == SyllableKind::middle || kind == SyllableKind::end;
}
/// True when the word goes on on a later note: what a hyphen after the syllable says.
constexpr bool word_goes_on(SyllableKind kind) {
  return kind == SyllableKind::begin || kind == SyllableKind::middle;
}
/// The kind of which both are so.
constexpr SyllableKind syllable_kind(bool continues_word, bool word_goes_on) {
  if (continues_word) return word_goes_on ? SyllableKind::middle : SyllableKind::end;
  return word_goes_on ? SyllableKind::begin : SyllableKind::single;
}

/// Stands in the text of a syllable between two that are sung on one note.
inline constexpr std::string_view kElision = "‿";

/// Song text on one note. The verse is "1", "2" … or "shoga", the sung syllables of the part.
struct Syllable {
  std::string verse = "1";
  std::string text;  ///< empty where the syllable before is carried on
  SyllableKind kind = SyllableKind::single;
  bool extends = false;  ///< this note carries on the syllable of an earlier one
  friend bool operator==(const Syllable&, const Syllable&) = default;
};

/// A tone as long as it is held; its ties are not told apart.
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

  bool has(Mark mark) const { return std::find(marks.begin(), marks.end(), mark) != marks.end(); }
  std::size_t grace_count() const { return grace_before.size() + grace_after.size(); }

  /// What is sung in a verse; null for nothing.
  const Syllable* syllable_of(std::string_view verse) const;
};

/// Calls `visit` with each tone of a note in the order of playing, its grace notes included.
template <typename AnyNote, typename Visit>
void for_each_tone(AnyNote& note, const Visit& visit) {
  for (auto& tone : note.grace_before) visit(tone);
  visit(note.tone);
  for (auto& tone : note.grace_after) visit(tone);
}

/// True when `check` holds for each tone of a note.
template <typename Check>
bool all_tones(const Note& note, const Check& check) {
  bool all = true;
  for_each_tone(note, [&](const Tone& tone) { all = all && check(tone); });
  return all;
}

/// True when `check` holds for one tone of a note.
template <typename Check>
bool any_tone(const Note& note, const Check& check) {
  return !all_tones(note, [&](const Tone& tone) { return !check(tone); });
}

/// Written down only where it carries marks; elsewhere a rest is the absence of notes. It lasts
/// until the next note, marked rest or direction, at most to the end of its measure.
struct Rest {
  std::size_t measure = 0;
  Rational onset;
  std::vector<Mark> marks;
  base::SourceRange source;
};

/// What stands before the pitch of a gap.
inline constexpr std::string_view kGapSign = "?";

/// A fingering as printed (三メ↓20, r3mv20), a gap as its spelling and bend (?F#4↓20, ?F#4v20); `?`
/// alone for a gap without spelling, nothing for a tone not yet fingered.
std::string printed(const Tone& tone, Alphabet alphabet = Alphabet::printed);

/// Reads exactly the printed form of a gap with its spelling, also of one that no score holds.
std::optional<Tone> parse_gap(std::string_view text);

}  // namespace yubifu::model
