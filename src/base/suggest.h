// "Did you mean": the known word nearest to an unknown one.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace yubifu::base {

/// The candidate with the fewest single-character edits (insertions, deletions, replacements and
/// swaps of neighbours), if that is at most a third of the word's length, and at least one.
std::optional<std::string_view> nearest_word(std::string_view word,
                                             const std::vector<std::string_view>& candidates);

}  // namespace yubifu::base
