// The usual dynamics: one table of their words and of what they do.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace yubifu::model {

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

}  // namespace yubifu::model
