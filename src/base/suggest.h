// "Did you mean": the known word nearest to an unknown one.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace yubifu::base {

/// The candidate with the fewest edits of one code point (insertions, deletions, replacements and
/// swaps of neighbours), if those are at most a third of the word's code points, or one, and do not
/// replace the whole candidate. The first of equals; words over 64 code points are not compared.
std::optional<std::string_view> nearest_word(std::string_view word,
                                             const std::vector<std::string_view>& candidates);

}  // namespace yubifu::base
