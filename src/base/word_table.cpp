#include "base/word_table.h"

#include <algorithm>
#include <string>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

// Longer words are no typing errors, and the table below grows with their product.
constexpr std::size_t kLongestWord = 64;

std::size_t edit_distance(std::u32string_view a, std::u32string_view b) {
  std::vector<std::vector<std::size_t>> cost(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) cost[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) cost[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replace = cost[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      cost[i][j] = std::min({cost[i - 1][j] + 1, cost[i][j - 1] + 1, replace});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) cost[i][j] = std::min(cost[i][j], cost[i - 2][j - 2] + 1);
    }
  }
  return cost[a.size()][b.size()];
}

}  // namespace

std::optional<std::string_view> nearest_word(std::string_view word,
                                             const std::vector<std::string_view>& candidates) {
  // Of code points, so that one kana is one edit and not three.
  const std::u32string unknown = code_points(word);
  if (unknown.size() > kLongestWord) return std::nullopt;
  std::optional<std::string_view> best;
  std::size_t best_cost = std::max<std::size_t>(1, unknown.size() / 3) + 1;
  for (const std::string_view candidate : candidates) {
    const std::u32string known = code_points(candidate);
    if (known.size() > kLongestWord) continue;
    const std::size_t cost = edit_distance(unknown, known);
    // A word of which nothing stays is no typing error.
    if (cost < best_cost && cost < known.size()) {
      best = candidate;
      best_cost = cost;
    }
  }
  return best;
}

}  // namespace yubifu::base
