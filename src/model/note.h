// Notes and rests. All times are in quarter notes.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/source_text.h"
#include "model/fingering.h"
#include "model/pitch.h"
#include "model/rational.h"

namespace yubifu::model {

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

enum class SyllableKind : std::uint8_t { single, begin, middle, end };

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

}  // namespace yubifu::model
