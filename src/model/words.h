// The words for values that every format spells alike: one two-way table each. A function
// `…_named` reads exactly the words that `word_of` gives; nothing comes of any other text.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "model/measure.h"
#include "model/score.h"

namespace yubifu::model {

/// "fermata", "breath", "breath?", "uchi" …
std::string_view word_of(Mark mark);
std::optional<Mark> mark_named(std::string_view word);

/// Every word of a mark, in the order of the enumeration.
std::vector<std::string_view> mark_words();

/// "segno", "coda", "fine", "dc", "ds", "to-coda", "until-cue", "rit" …
std::string_view word_of(Cue cue);
std::optional<Cue> cue_named(std::string_view word);

/// Every word of a cue, in the order of the enumeration.
std::vector<std::string_view> cue_words();

/// The word of a direction with a value ("tempo", "dyn" …) or of a cue.
std::string_view word_of(const DirectionValue& value);

/// "single", "begin", "middle", "end".
std::string_view word_of(SyllableKind kind);
std::optional<SyllableKind> syllable_kind_named(std::string_view word);

/// Every word of a kind of syllable, in the order of the enumeration.
std::vector<std::string_view> syllable_kind_words();

/// "in-c" and "sounding".
std::string_view word_of(StaffMode mode);
std::optional<StaffMode> staff_mode_named(std::string_view word);

/// "cross" and "tube".
std::string_view word_of(ZeroSign zero);
std::optional<ZeroSign> zero_sign_named(std::string_view word);

/// What a dynamic does: the level from there on, in steps from mf, and whether the note on which it
/// stands, or the next one after a hold or rest, is struck harder than its level.
struct DynamicMeaning {
  std::optional<int> steps;
  bool forced = false;
};

/// pppppp to ffffff; sf, sfz, sffz, fz, rf, rfz for one note; fp, sfp, sfzp, sfpp, which go on
/// softly. Nothing for other words, also for n and pf, which say no level.
std::optional<DynamicMeaning> dynamic_meaning(std::string_view level);

/// Every usual word, those without a meaning included.
std::vector<std::string_view> dynamic_words();

/// At its start, strictly inside, at its end, or at any place from start to end.
enum class PlaceInMeasure { start, inside, end, anywhere };

/// Where a cue may stand.
PlaceInMeasure place_in_measure(Cue cue);

/// The same of any direction. A beat at the start of a measure is no direction (Measure::beat).
PlaceInMeasure place_in_measure(const DirectionValue& value);

}  // namespace yubifu::model
