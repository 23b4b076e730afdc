// The meaning of a free-standing brace.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "model/score.h"
#include "notation/characters.h"
#include "notation/rules.h"

namespace yubifu::notation {

/// {irregular}
struct SetIrregular {};

/// {ending 1,3}; no numbers for {ending end}.
using EndingNumbers = std::vector<int>;

/// A beat is a model::BeatChange.
using DirectionMeaning =
    std::variant<model::DirectionValue, model::Meter, SetIrregular, EndingNumbers, Fault>;

/// Reads a brace; a tempo that names no unit counts `tempo_unit` (quarter notes). An unknown word
/// and a mark are faults.
DirectionMeaning read_direction(const Brace& brace, model::Rational tempo_unit);

/// Where it may stand; nothing for a word that opens no direction. {beat} stands anywhere: at the
/// start of a bar it is the beat of the bar.
std::optional<model::PlaceInMeasure> place_of_word(std::string_view name);

/// What to say of a value that is none of its brace, or lacks; the hint says what to write.
Fault bad_value(const base::Rule& rule, const Brace& brace, std::string hint);

/// What to say of a value in a brace that takes none.
Fault needless_value(const base::Rule& rule, const Brace& brace);

/// What to say of a beat that does not divide the meter.
std::optional<Fault> unfit_beat(model::Rational beat, const model::Meter& meter);

/// What to say of a text that names no flute.
Fault unknown_flute(std::string_view text);

/// The text of a tempo, in a header or a direction, folded and without its spaces.
std::string tempo_text(std::string_view text);

/// "3/8=92" for such a text that names its note by a dot or a picture: "1/4.=92", "♩.=92". Nothing
/// for another text.
std::optional<std::string> tempo_meant(std::string_view text);

}  // namespace yubifu::notation
