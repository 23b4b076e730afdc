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

/// {meter 3/4}
struct SetMeter {
  model::Meter meter;
};

/// {irregular}
struct SetIrregular {};

/// {ending 1,3}, or {ending end} without numbers.
struct SetEnding {
  std::vector<int> numbers;
};

/// A beat is a model::BeatChange.
using DirectionMeaning =
    std::variant<model::DirectionValue, SetMeter, SetIrregular, SetEnding, Fault>;

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

/// What to say of a dynamic that is none of the usual levels.
std::optional<Fault> unusual_dynamic(const model::DirectionValue& value);

/// What to say of a text that names no flute.
Fault unknown_flute(std::string_view text);

/// A tempo from its folded text, in a header or a direction; spaces in it do not matter. `unit` is
/// what it counts where it does not say. Nothing for another text.
std::optional<model::Tempo> read_tempo(std::string_view text, model::Rational unit);

/// "3/8=92" for a tempo that names its note by a dot or a picture: "1/4.=92", "♩.=92". Nothing for
/// another text.
std::optional<std::string> tempo_meant(std::string_view text);

}  // namespace yubifu::notation
