#include "model/rhythm_division.h"

#include <algorithm>
#include <numeric>

#include "base/numbers.h"

namespace yubifu::model {
namespace {

// N of `(…):N` is at most this.
constexpr Units kMostWordsJoined = 16;

// A search that takes more steps than these is done again without `(…):N`. No music comes near;
// the limit keeps bars that were made to be hard from taking minutes.
constexpr std::size_t kMostSteps = 4'000'000;
constexpr std::size_t kMostStepsPerStart = 100;

// Words of a form not looked for: more than any bar has, few enough to be added up over its starts.
constexpr Units kUnknownWords = Units{1} << 40;

// The divisors from 2 on, in order.
std::vector<Units> divisors_of(Units value) {
  std::vector<Units> small;
  std::vector<Units> large{value};
  for (Units i = 2; i * i <= value; ++i) {
    if (value % i != 0) continue;
    small.push_back(i);
    if (i * i != value) large.push_back(value / i);
  }
  small.insert(small.end(), large.rbegin(), large.rend());
  return small;
}

}  // namespace

RhythmDivision::RhythmDivision(std::vector<Units> starts)
    : starts_(std::move(starts)), most_steps_(kMostSteps + kMostStepsPerStart * starts_.size()) {}

Stretch RhythmDivision::stretch(Units begin, Units end) const {
  const auto first = std::upper_bound(starts_.begin(), starts_.end(), begin);
  const auto last = std::lower_bound(first, starts_.end(), end);
  return {begin, end, static_cast<std::size_t>(first - starts_.begin()),
          static_cast<std::size_t>(last - starts_.begin())};
}

Units RhythmDivision::denominator(const Stretch& in) {
  Units common = in.length();
  for (std::size_t i = in.first; i < in.last && common > 1; ++i) {
    common = std::gcd(common, starts_[i] - in.begin);
  }
  steps_ += in.count();
  return in.length() / common;
}

RhythmDivision::Choice RhythmDivision::group(const Stretch& in) {
  const Units finest = denominator(in);
  // A start at every part: nothing can be shorter.
  if (finest == static_cast<Units>(in.count()) + 1) return {{finest, 0, 1}, finest};
  const std::pair key(in.begin, in.end);
  if (const auto known = known_.find(key); known != known_.end()) return known->second;
  Choice best{{kUnknownWords, 0, 0}, 0};
  for (const Units shares : divisors_of(finest)) {
    if (exhausted()) break;
    RhythmCost cost = row(in, in.length() / shares, finest, best.cost.words);
    cost.groups += 1;
    if (cost < best.cost) best = {cost, shares};
  }
  known_.emplace(key, best);
  return best;
}

Stretch RhythmDivision::next_in_row(const Stretch& row, Units part, Units at,
                                    std::size_t first) const {
  std::size_t last = first;
  while (last < row.last && (starts_[last] - row.begin) % part != 0) ++last;
  return {at, last < row.last ? starts_[last] : row.end, first, last};
}

Stretch RhythmDivision::part_around(const Stretch& in, Units part, std::size_t first) const {
  const Units begin = in.begin + (starts_[first] - in.begin) / part * part;
  std::size_t last = first;
  while (last < in.last && starts_[last] < begin + part) ++last;
  return {begin, begin + part, first, last};
}

bool RhythmDivision::is_joined(const Stretch& in, Units part, Units around) {
  if (!may_join(in, part, around)) return false;
  RhythmCost joined = group(in).cost;
  joined.joined += 1;
  return joined < separate(in, part, kUnknownWords);
}

// Conditions (1) to (4) of the grammar for one word over the stretch, which next_in_row cut so
// that no start on a part boundary is inside.
bool RhythmDivision::may_join(const Stretch& in, Units part, Units around) {
  const Units parts = in.length() / part;
  if (!may_join_ || parts < 2 || parts > kMostWordsJoined) return false;
  bool odd = false;
  for (std::size_t i = in.first; i < in.last && !odd; ++i) {
    odd = !base::is_power_of_two(part / std::gcd(part, starts_[i] - in.begin));
  }
  steps_ += in.count();
  const auto is_start = [&](Units place) {
    return std::binary_search(starts_.begin(), starts_.end(), place);
  };
  if (!odd || !is_start(in.begin) || !is_start(in.end)) return false;
  return around == 0 || denominator(in) < around;
}

// A word for each part. More words than `limit` need not be counted to the end.
RhythmCost RhythmDivision::separate(const Stretch& in, Units part, Units limit) {
  RhythmCost cost{in.length() / part, 0, 0};
  for (std::size_t i = in.first; i < in.last && cost.words <= limit;) {
    const Stretch inside = part_around(in, part, i);
    cost.words -= 1;
    cost += group(inside).cost;
    i = inside.last;
  }
  return cost;
}

// A row cut into parts, inside a group whose D is `around`.
RhythmCost RhythmDivision::row(const Stretch& in, Units part, Units around, Units limit) {
  RhythmCost cost;
  Units at = in.begin;
  std::size_t first = in.first;
  steps_ += in.count();
  while (at < in.end && cost.words <= limit) {
    const Stretch next = next_in_row(in, part, at, first);
    RhythmCost best = separate(next, part, limit);
    if (may_join(next, part, around)) {
      RhythmCost joined = group(next).cost;
      joined.joined += 1;
      best = std::min(best, joined);
    }
    cost += best;
    at = next.end;
    first = next.last + 1;
  }
  return cost;
}

}  // namespace yubifu::model
