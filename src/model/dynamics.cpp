#include "model/dynamics.h"

#include "base/word_table.h"

namespace yubifu::model {
namespace {

using Meaning = std::optional<DynamicMeaning>;

constexpr Meaning level(int steps) {
  return DynamicMeaning{steps, false};
}
constexpr Meaning kForced = DynamicMeaning{std::nullopt, true};
constexpr Meaning kForcedThenPiano = DynamicMeaning{-2, true};
constexpr Meaning kForcedThenPianissimo = DynamicMeaning{-3, true};

// Of two words equally near to a misspelled one the first is offered.
constexpr auto kDynamics = base::word_table<Meaning>({
    {std::nullopt, "n"},
    {level(-5), "pppp"},
    {level(-4), "ppp"},
    {level(-3), "pp"},
    {level(-2), "p"},
    {level(-1), "mp"},
    {level(0), "mf"},
    {level(1), "f"},
    {level(2), "ff"},
    {level(3), "fff"},
    {level(4), "ffff"},
    {kForcedThenPiano, "fp"},
    {std::nullopt, "pf"},
    {kForced, "sf"},
    {kForcedThenPiano, "sfp"},
    {kForcedThenPianissimo, "sfpp"},
    {kForced, "sfz"},
    {kForced, "sffz"},
    {kForcedThenPiano, "sfzp"},
    {kForced, "fz"},
    {kForced, "rf"},
    {kForced, "rfz"},
    {level(-6), "ppppp"},
    {level(-7), "pppppp"},
    {level(5), "fffff"},
    {level(6), "ffffff"},
});

}  // namespace

std::optional<DynamicMeaning> dynamic_meaning(std::string_view level) {
  return kDynamics.value_of(level).value_or(std::nullopt);
}

std::vector<std::string_view> dynamic_words() {
  return kDynamics.words();
}

}  // namespace yubifu::model
