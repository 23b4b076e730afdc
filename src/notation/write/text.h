// Small texts of the writer: header, signs, marks and directions in either alphabet.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/score.h"
#include "notation/spelling.h"
#include "notation/write/writer.h"

namespace yubifu::notation {

/// A text with its line ends made into single spaces: everything is written on one line.
std::string on_one_line(std::string_view text);

/// True when on_one_line changes the text.
bool has_line_end(std::string_view text);

/// True when the text has a way to write the sign.
bool is_writable(const model::Sign& sign);

/// Sign, half hole and bend; for a gap `?C5` and its bend. The tone has a fingering, a gap its
/// spelling.
std::string tone_text(const model::Tone& tone, Alphabet alphabet);

/// Grace notes as the brace of `pre` or `post`.
std::string grace_text(ValuedMark mark, const std::vector<model::Tone>& tones, Alphabet alphabet);

/// A note as one word: tone, marks in canonical order, grace notes, asked pattern, slur.
std::string note_text(const model::Note& note, Alphabet alphabet);

/// A rest with its marks, if it has any.
std::string rest_text(const model::Rest* rest, Alphabet alphabet);

/// A direction as its brace. `usual_unit` is what a tempo counts that names no unit; zero makes it
/// name its unit.
std::string direction_text(const model::DirectionValue& value, model::Rational usual_unit);

/// The name of a flute so that it is read as the same flute.
std::string flute_text(const model::FluteName& name);

/// True when a field that nobody knows can stand in the header as it is.
bool is_writable_field(const model::Header& header, const model::HeaderField& field);

/// Comments, then the known keys in order (the meter always), then the fields that nobody knows.
std::string header_text(const model::Header& header);

/// A comment as it is written: "# text", "#" for an empty one.
std::string comment_text(const std::string& text);

}  // namespace yubifu::notation
