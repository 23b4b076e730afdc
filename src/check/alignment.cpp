#include "check/alignment.h"

#include <algorithm>
#include <map>
#include <span>

#include <fmt/format.h>

#include "check/findings.h"

namespace yubifu::check {
namespace {

using Row = std::span<const Token>;
using Cost = std::int32_t;

constexpr Cost kAlone = 3;
constexpr Cost kOtherThing = 3;
constexpr Cost kOtherLength = 1;
constexpr Cost kOtherPlace = 1;
constexpr Cost kImpossible = 1 << 29;

Cost pair_cost(const Token& a, const Token& b) {
  return (a.what == b.what ? 0 : kOtherThing) + (a.how_long == b.how_long ? 0 : kOtherLength) +
         (a.where == b.where ? 0 : kOtherPlace);
}

enum class Direction { forward, backward };

// The cost of aligning all of `a` with each beginning (or, backward, each end) of `b`. `a` is part
// of a row of length `whole`, which makes the diagonal; only `band` around that is looked at.
std::vector<Cost> costs(Row a, Row b, std::size_t whole, std::size_t band, Direction direction) {
  const auto at = [&](Row row, std::size_t i) -> const Token& {
    return direction == Direction::forward ? row[i] : row[row.size() - 1 - i];
  };
  std::vector<Cost> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = static_cast<Cost>(j) * kAlone;
  std::vector<Cost> next(b.size() + 1, kImpossible);
  std::size_t first = 0;
  std::size_t reached = b.size();  // entries of `row` past this one are stale
  for (std::size_t i = 0; i < a.size(); ++i) {
    const std::size_t middle = i * b.size() / whole;
    first = middle > band ? middle - band : 0;
    const std::size_t last = std::min(b.size(), middle + band);
    while (reached < last) row[++reached] = kImpossible;
    next[first] = row[first] + kAlone;
    for (std::size_t j = first + 1; j <= last; ++j) {
      const Cost paired = row[j - 1] + pair_cost(at(a, i), at(b, j - 1));
      next[j] = std::min({paired, row[j] + kAlone, next[j - 1] + kAlone});
    }
    std::swap(row, next);
    reached = last;
  }
  std::fill(row.begin(), row.begin() + static_cast<std::ptrdiff_t>(first), kImpossible);
  std::fill(row.begin() + static_cast<std::ptrdiff_t>(reached) + 1, row.end(), kImpossible);
  return row;
}

// Aligns two parts of rows that begin at these offsets. Divide and conquer (Hirschberg 1975): the
// memory of two rows instead of a whole table.
void pair_up(Row a, Row b, std::size_t from_a, std::size_t from_b, std::size_t band,
             std::vector<Pairing>& pairs) {
  if (a.size() > 1 && !b.empty()) {
    const std::size_t half = a.size() / 2;
    const auto before = costs(a.first(half), b, a.size(), band, Direction::forward);
    const auto after = costs(a.subspan(half), b, a.size(), band, Direction::backward);
    std::size_t cut = 0;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      if (before[j] + after[b.size() - j] < before[cut] + after[b.size() - cut]) cut = j;
    }
    pair_up(a.first(half), b.first(cut), from_a, from_b, band, pairs);
    pair_up(a.subspan(half), b.subspan(cut), from_a + half, from_b + cut, band, pairs);
    return;
  }
  // One token of `a` is paired with the most similar one of `b`, if that beats standing alone;
  // without `b` all of `a` stands alone.
  std::optional<std::size_t> partner;
  Cost least = 2 * kAlone;
  for (std::size_t j = 0; !a.empty() && j < b.size(); ++j) {
    const Cost cost = pair_cost(a[0], b[j]);
    if (cost < least) {
      least = cost;
      partner = j;
    }
  }
  for (std::size_t i = 0; i < a.size() && !partner; ++i) {
    pairs.push_back({from_a + i, std::nullopt});
  }
  for (std::size_t j = 0; j < b.size(); ++j) {
    pairs.push_back({partner == j ? std::optional(from_a) : std::nullopt, from_b + j});
  }
}

// How far from the diagonal the alignment of least cost may lead, found by trying (Ukkonen 1985):
// a path that leaves a band of width w has at least w things alone, or as many fewer as one row is
// longer. Rows with little in common get a whole table, or the band that there is time for.
std::size_t needed_band(Row a, Row b) {
  const std::size_t longer = std::max({a.size(), b.size(), std::size_t{1}});
  const std::size_t spread = longer - std::min(a.size(), b.size());
  constexpr std::size_t kFirstBand = 64;
  // Wider bands are not tried: in all they would cost more than the table.
  constexpr std::size_t kWidestShare = 8;
  for (std::size_t band = kFirstBand; band < longer / kWidestShare; band *= 2) {
    if (band > kMostCells / longer / kWidestShare) break;
    if (band <= spread) continue;
    const auto most = static_cast<Cost>(kAlone * (band - spread));
    // Parts of the path lie up to twice as far from diagonals of their own.
    if (costs(a, b, a.size(), band, Direction::forward).back() < most) return 2 * band;
  }
  const bool small = longer <= kMostCells / longer;
  // A band is walked once a level of the recursion, a whole table twice in all.
  return small ? longer : std::max<std::size_t>(kMostCells / longer / 8, 1);
}

constexpr std::size_t kContext = 3;

// Each line with its line end, if it has one.
std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::size_t size = end == std::string_view::npos ? text.size() : end + 1;
    lines.push_back(text.substr(0, size));
    text.remove_prefix(size);
  }
  return lines;
}

// One line of the output: ' ' in both, '-' only before, '+' only after.
struct Step {
  char sign;
  std::string_view line;
};

std::vector<Step> steps_between(std::string_view before, std::string_view after) {
  const std::vector<std::string_view> lines_before = lines_of(before);
  const std::vector<std::string_view> lines_after = lines_of(after);
  std::map<std::string_view, std::int64_t> numbers;
  const auto tokens = [&](const std::vector<std::string_view>& lines) {
    std::vector<Token> list;
    for (const std::string_view line : lines) {
      const auto number = static_cast<std::int64_t>(numbers.size());
      list.push_back({numbers.try_emplace(line, number).first->second, 0, 0});
    }
    return list;
  };
  std::vector<Step> steps;
  // What is taken out comes before what is put in.
  std::vector<std::string_view> added;
  const auto flush = [&] {
    for (const std::string_view line : added) steps.push_back({'+', line});
    added.clear();
  };
  for (const Pairing& pair : align(tokens(lines_before), tokens(lines_after))) {
    const bool same = pair.a && pair.b && lines_before[*pair.a] == lines_after[*pair.b];
    if (same) flush();
    if (pair.a) steps.push_back({same ? ' ' : '-', lines_before[*pair.a]});
    if (pair.b && !same) added.push_back(lines_after[*pair.b]);
  }
  flush();
  return steps;
}

// "12,3": the first line and how many; no line begins before the first of an empty range.
std::string range_text(std::size_t passed, std::size_t lines) {
  const std::size_t first = passed + (lines > 0 ? 1 : 0);
  return lines == 1 ? fmt::format("{}", first) : fmt::format("{},{}", first, lines);
}

}  // namespace

std::vector<Pairing> align(const std::vector<Token>& a, const std::vector<Token>& b) {
  const std::size_t shorter = std::min(a.size(), b.size());
  std::size_t head = 0;
  while (head < shorter && a[head] == b[head]) ++head;
  std::size_t tail = 0;
  while (tail < shorter - head && a[a.size() - 1 - tail] == b[b.size() - 1 - tail]) ++tail;

  std::vector<Pairing> pairs;
  pairs.reserve(std::max(a.size(), b.size()));
  for (std::size_t i = 0; i < head; ++i) pairs.push_back({i, i});
  const Row inner_a = Row(a).subspan(head, a.size() - head - tail);
  const Row inner_b = Row(b).subspan(head, b.size() - head - tail);
  pair_up(inner_a, inner_b, head, head, needed_band(inner_a, inner_b), pairs);
  for (std::size_t i = 0; i < tail; ++i) {
    pairs.push_back({a.size() - tail + i, b.size() - tail + i});
  }
  return pairs;
}

std::string unified_diff(std::string_view before, std::string_view after,
                         std::string_view before_name, std::string_view after_name) {
  const std::vector<Step> steps = steps_between(before, after);
  const auto next_change = [&](std::size_t at) {
    while (at < steps.size() && steps[at].sign == ' ') ++at;
    return at;
  };
  std::string text;
  std::size_t at = 0;
  std::size_t passed_before = 0;  // lines of each text
  std::size_t passed_after = 0;
  for (std::size_t change = next_change(0); change < steps.size(); change = next_change(at)) {
    if (text.empty()) {
      text = fmt::format("--- {}\n+++ {}\n", without_control_characters(before_name, {}),
                         without_control_characters(after_name, {}));
    }
    const std::size_t begin = std::max(at, change < kContext ? 0 : change - kContext);
    std::size_t end = change;
    // Changes with few lines between them share one hunk.
    for (std::size_t next = change; next < steps.size() && next <= end + 2 * kContext;
         next = next_change(next + 1)) {
      end = next + 1;
    }
    end = std::min(end + kContext, steps.size());
    passed_before += begin - at;
    passed_after += begin - at;
    std::size_t taken_out = 0;
    std::size_t put_in = 0;
    std::string hunk;
    for (at = begin; at < end; ++at) {
      const auto& [sign, whole] = steps[at];
      const bool ended = whole.ends_with('\n');
      const std::string_view line = whole.substr(0, whole.size() - (ended ? 1 : 0));
      hunk += sign + without_control_characters(line, "\t") + '\n';
      if (!ended) hunk += "\\ No newline at end of file\n";
      if (sign != '+') ++taken_out;
      if (sign != '-') ++put_in;
    }
    text += fmt::format("@@ -{} +{} @@\n{}", range_text(passed_before, taken_out),
                        range_text(passed_after, put_in), hunk);
    passed_before += taken_out;
    passed_after += put_in;
  }
  return text;
}

}  // namespace yubifu::check
