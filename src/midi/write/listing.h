// What sounds when and how high, for programs that play it themselves.
#pragma once

#include <string>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::midi {

/// JSON of schemas/sound.schema.json: the written tones by their numbers (model::tone_numbers) with
/// their places in the text, then bars, clicks and tones as they are played, repeats played out, in
/// exact quarters and in seconds of the score's tempos. It plays what write_midi plays, but for the
/// frequency, which has no steps, and the times, which need no ticks. The score must be resolved.
/// Reports what perform() does.
base::Outcome<std::string> write_listing(const model::Score& score);

}  // namespace yubifu::midi
