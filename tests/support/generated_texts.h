// Random names, words and comments, with the characters that need care somewhere.
#pragma once

#include <string>
#include <vector>

#include "model/score.h"
#include "support/dice.h"
#include "support/score_generator.h"

namespace yubifu::support {

/// A title, a name, a remark: one line without spaces at its ends.
std::string random_line(Dice& dice);

/// Names, tuning, key, tempo, flute, unknown fields and comments. Meter and beat stay.
void add_header(model::Score& score, Dice& dice, const GeneratorOptions& options);

/// Song text in up to three verses and shoga.
void add_song_text(model::Score& score, Dice& dice);

/// Comments after measures, and where lines break.
void add_layout(model::Score& score, Dice& dice);

model::FluteName random_flute(Dice& dice, const GeneratorOptions& options);

/// A tempo of the usual unit or of another one.
model::Tempo random_tempo(Dice& dice, model::Rational usual_unit);

model::Key random_key(Dice& dice);

}  // namespace yubifu::support
