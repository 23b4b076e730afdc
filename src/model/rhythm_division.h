// The search for the cheapest division of time into groups, in whole units; rhythm_tree.h builds
// words from what it finds.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <unordered_map>
#include <utility>
#include <vector>

namespace yubifu::model {

/// A place or length, in units so small that every start and every part boundary falls on one.
using Units = std::int64_t;

/// Time from `begin` to `end` and the starts strictly inside it, as indexes [first, last).
struct Stretch {
  Units begin = 0;
  Units end = 0;
  std::size_t first = 0;
  std::size_t last = 0;

  Units length() const { return end - begin; }
  std::size_t count() const { return last - first; }
};

/// What a piece of rhythm costs, compared in this order. Equal costs are decided by the sequence of
/// N and k in reading order: two candidates for the same time first differ at one choice, so the
/// smaller N or k at that choice wins and no sequence need be kept.
struct RhythmCost {
  Units words = 0;   ///< signs, holds and rests
  Units joined = 0;  ///< groups with `:N`
  Units groups = 0;

  RhythmCost& operator+=(const RhythmCost& more) {
    words += more.words;
    joined += more.joined;
    groups += more.groups;
    return *this;
  }
  friend auto operator<=>(const RhythmCost&, const RhythmCost&) = default;
};

/// Finds the cheapest division of rows and groups over the starts of one row.
class RhythmDivision {
 public:
  /// `starts` are in order; the end of the bar is one of them where the row reaches it.
  explicit RhythmDivision(std::vector<Units> starts);

  /// A group and what it costs.
  struct Choice {
    RhythmCost cost;
    Units shares = 0;  ///< k
  };

  /// The time from `begin` to `end` with the starts inside it.
  Stretch stretch(Units begin, Units end) const;

  /// D: the least common denominator of the starts inside, relative to the stretch.
  Units denominator(const Stretch& in);

  /// The cheapest group over a stretch with starts inside.
  Choice group(const Stretch& in);

  /// The next stretch of a row cut into parts: from `at`, a part boundary, to the next start on a
  /// part boundary or the end of the row. `first` is the first start after `at`.
  Stretch next_in_row(const Stretch& row, Units part, Units at, std::size_t first) const;

  /// The part of a stretch that holds the start `first`.
  Stretch part_around(const Stretch& in, Units part, std::size_t first) const;

  /// True when one word of several parts is better than a word for each part. The stretch is one
  /// that next_in_row gave; `around` is the D of the group around it, 0 outside groups.
  bool is_joined(const Stretch& in, Units part, Units around);

  /// True when the search has taken too long; what it finds is of no use then.
  bool exhausted() const { return may_join_ && steps_ > most_steps_; }
  /// Starts the search again, without words of several parts.
  void give_up_joining() {
    may_join_ = false;
    known_.clear();
  }

 private:
  struct Hash {
    std::size_t operator()(const std::pair<Units, Units>& ends) const {
      constexpr std::uint64_t kSpread = 0x9E3779B97F4A7C15u;  // 2^64 over the golden ratio
      return static_cast<std::size_t>(static_cast<std::uint64_t>(ends.first) * kSpread +
                                      static_cast<std::uint64_t>(ends.second));
    }
  };

  bool may_join(const Stretch& in, Units part, Units around);
  RhythmCost separate(const Stretch& in, Units part, Units limit);
  RhythmCost row(const Stretch& in, Units part, Units around, Units limit);

  std::vector<Units> starts_;
  std::unordered_map<std::pair<Units, Units>, Choice, Hash> known_;  // by begin and end
  std::size_t steps_ = 0;
  std::size_t most_steps_;
  bool may_join_ = true;
};

}  // namespace yubifu::model
