// Small tunes for tests, from signs or from note names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "fingering/resolve.h"
#include "model/score.h"

namespace yubifu::fingering {

/// A word of a tune and how many quarters it lasts.
struct Word {
  std::string_view text;
  model::Rational quarters = 1;
};

/// A 4/4 score of fingered notes: printed fingerings, or ?C5 for a gap.
model::Score tune_of_signs(const std::vector<Word>& words);

/// The same of notes that have only a pitch: C5, F#4.
model::Score tune_of_notes(const std::vector<Word>& words);

/// The traditional "Sakura" as fingered on any flute (public-domain melody), at 60.
model::Score sakura();

/// Printed fingerings, gaps as ?C5.
std::vector<std::string> signs_of(const model::Score& score);

/// Spelled pitches.
std::vector<std::string> notes_of(const model::Score& score);

/// Sounding keys.
std::vector<int> keys_of(const model::Score& score);

/// The same melody as a staff holds it: pitches alone, whole semitones.
model::Score as_staff(const model::Score& resolved);

/// "name" or "name 1,2" with the measures, in order.
std::vector<std::string> rule_names(const base::Diagnostics& diagnostics);

}  // namespace yubifu::fingering
