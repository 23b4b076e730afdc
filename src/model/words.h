// The words for values that every format spells alike: one two-way table each. A function
// `…_named` reads exactly the words that `word_of` gives; nothing comes of any other text.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "model/score.h"

namespace yubifu::model {

/// "fermata", "breath", "breath?", "uchi" …
std::string_view word_of(Mark mark);
std::optional<Mark> mark_named(std::string_view word);

/// Every word of a mark, in the order of the enumeration.
std::vector<std::string_view> mark_words();

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

}  // namespace yubifu::model
