// A score made ready for the writer: what keeps it from being written at all, the nearest score
// that fingering text can say, and the texts of its parts in either alphabet. Findings name
// measures, as a score has no places in a text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"
#include "notation/spelling.h"
#include "notation/write/writer.h"

namespace yubifu::notation {

/// One error for each kind of fault, with the measures concerned: notes without fingering, signs
/// without a spelling, values that the reader would refuse, what passes its limits. Rhythms and the
/// number of words are left to the writer.
base::Diagnostics check_writable(const model::Score& score, Alphabet alphabet);

/// Header fields without a good key become comments; `zero: tube` goes where 0 is a note; a repeat
/// start without an end before the next one goes; of two tempos, keys, beats or flutes at one place
/// the last stays; a note held over a change of flute is struck anew; `~` without a syllable before
/// it goes. No value where the score needs no mending; one finding a rule says what was changed,
/// and that texts of several lines become one: all that is written here stands on one line.
base::Outcome<model::Score> mend(const model::Score& score);

/// A text with its line ends made into single spaces.
std::string on_one_line(std::string_view text);

/// Grace notes as the brace of `pre` or `post`.
std::string grace_text(ValuedMark mark, const std::vector<model::Tone>& tones, Alphabet alphabet);

/// A direction as its brace. `usual_unit` is what a tempo counts that names no unit; zero makes it
/// name its unit.
std::string direction_text(const model::DirectionValue& value, model::Rational usual_unit);

/// Comments, then the known keys in order (the meter always), then the fields that nobody knows.
std::string header_text(const model::Header& header);

/// A comment as it is written: "# text", "#" for an empty one.
std::string comment_text(const std::string& text);

}  // namespace yubifu::notation
