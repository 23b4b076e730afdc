// The words of MusicXML that stand for values of the score, each table read in both directions.
// The sentences below are the contract between the writer and the reader of this folder; the
// texts of our own are in vocabulary_own.h.
//
// Staff. `<pitch>` is the written pitch, rounded to whole semitones (the sounding key plus or
// minus `<transpose>`); with exact alterations `<alter>` carries the cents as well. In C the
// transposition is that of the nearest size, and `<key>` is the written key.
//
// Notes. A note over several `<note>` elements is one chain of ties. Marks, slides and grace
// notes may stand on any of its pieces; annotation and song text stand on the first. Slurs count
// whole chains: the notes from one that starts a slur to the one before its stop are slurred to
// the next. A `<slide>` starts on the note that has suri and stops on the next one.
// Grace notes with `steal-time-previous` belong to the note before them, others to the next one.
// A rest with marks carries them on its first piece.
//
// Annotation (the kind is the field `yubifu.fingering`): `lyric` and `lyric-above` are the
// `<lyric name="fingering">`; `technical` is `<technical><fingering>`; `words` is a `<direction
// placement="below">` with one `<words>` directly before its `<note>` (also a grace note),
// whereas texts of the score stand above. The text is the fingering as printed, or `?`, the
// sounding spelling and the bend for a gap (`?F#4↓20`), and perhaps strokes. A note that has
// none is not fingered. `<hole>` elements are print only.
//
// Song text. `<lyric>` has the verse as its name ("1", "2", "shoga"); its number is the place of
// the verse, after the fingering. `‿` inside a syllable is an `<elision>`. A note that carries a
// syllable on has a `<lyric>` with only an `<extend>`.
//
// Bars. A repeat end with another line than the regular one is told by our own text, since
// `<bar-style>` is light-heavy there. `implicit="yes"`: a short first bar and the second half of
// a bar that a repeat sign parts. `<print new-system="yes"/>`: the author's line break. A bar
// without notes has no rests either.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "base/word_table.h"
#include "model/score.h"

namespace yubifu::musicxml {

/// How fingerings stand in a staff file.
enum class Annotation { lyric, lyric_above, technical, words, none };

/// "lyric", "lyric-above" …
std::string_view annotation_name(Annotation annotation);
std::optional<Annotation> annotation_named(std::string_view name);

/// The name attribute of a `<lyric>` that is a fingering.
inline constexpr std::string_view kFingeringLyric = "fingering";

/// The `<type>` of an undotted value in quarters (note-type-value of the MusicXML schema).
inline constexpr auto kNoteTypes = base::word_table<model::Rational>({
    {model::Rational(1), "quarter"},
    {model::Rational(1, 2), "eighth"},
    {model::Rational(1, 4), "16th"},
    {model::Rational(2), "half"},
    {model::Rational(4), "whole"},
    {model::Rational(1, 8), "32nd"},
    {model::Rational(1, 16), "64th"},
    {model::Rational(8), "breve"},
    {model::Rational(1, 32), "128th"},
    {model::Rational(1, 64), "256th"},
    {model::Rational(1, 128), "512th"},
    {model::Rational(1, 256), "1024th"},
    {model::Rational(16), "long"},
    {model::Rational(32), "maxima"},
});

/// The `<accidental>` of a whole alteration (accidental-value of the schema).
inline constexpr auto kAccidentals = base::word_table<int>({
    {0, "natural"},
    {1, "sharp"},
    {-1, "flat"},
    {2, "double-sharp"},
    {-2, "flat-flat"},
});

/// `<hole-closed>` of a hole; one closed to steady the flute is closed.
std::string_view hole_closed_name(model::Hole hole);

/// `<bar-style>` of a line without a repeat. Other styles have no counterpart in the score.
inline constexpr auto kBarStyles = base::word_table<model::BarStyle>({
    {model::BarStyle::regular, "regular"},
    {model::BarStyle::section, "light-light"},
    {model::BarStyle::final, "light-heavy"},
});

/// Where the element of a mark stands in `<notations>`.
enum class MarkPlace { notations, articulations, ornaments, technical };

/// The element of a mark. `text` is its content; in reading an element named "other-…" counts
/// only with this text, a `breath-mark` with another text is an ordinary breath.
struct MarkElement {
  model::Mark mark;
  MarkPlace place;
  std::string_view element;
  std::string_view text;
};

/// One entry a mark, in the order of the enumeration; suri is the `slide` of two notes.
const std::vector<MarkElement>& mark_elements();

/// The entry of a mark.
const MarkElement& element_of(model::Mark mark);

/// The mark of an element inside `place` with this content; nothing when it is none of ours.
std::optional<model::Mark> mark_of(MarkPlace place, std::string_view element,
                                   std::string_view text);

/// True for a level that has an element of its own in `<dynamics>` (MusicXML 3.0); others are
/// `<other-dynamics>`.
bool has_dynamics_element(std::string_view level);

/// How a cue is printed: the child of `<direction-type>`, with the words of model::printed() in
/// "words", and the attribute of `<sound>` that plays it (empty where none does; then our own text
/// tells the cue).
struct CueElement {
  model::Cue cue;
  std::string_view element;  ///< "segno", "coda" or "words"
  std::string_view sound_attribute;
  std::string_view sound_value;
};

/// One entry a cue, in the order of the enumeration.
const std::vector<CueElement>& cue_elements();

/// The cue that a `<sound>` with this attribute plays, whatever its value.
std::optional<model::Cue> cue_of_sound(std::string_view attribute);

/// The cue that words of a `<direction>` mean by themselves, in any letter case: "rit.",
/// "D.C. al Fine" … A text of the score that says the same is told by our own text.
std::optional<model::Cue> cue_of_words(std::string_view words);

/// A faster tempo, in units a minute, is a slip.
inline constexpr model::Rational kFastest(1000);

/// Whether a <metronome> says a tempo as it is read: up to kFastest units a minute, each of 1/32 to
/// 8 quarters.
bool metronome_holds(const model::Tempo& tempo);

/// More of them are neither read nor written: products of two such numbers still fit 64 bits.
inline constexpr std::int64_t kMostDivisions = 1'000'000'000;

}  // namespace yubifu::musicxml
