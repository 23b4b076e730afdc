// Which measures belong to which repeat, found once before the playing begins.
#pragma once

#include <cstddef>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::model {

/// A repeat with its endings: measures [first, end).
struct RepeatGroup {
  std::size_t first = 0;
  std::size_t end = 0;
  int passes = 2;  ///< how often the whole is played
};

/// What find_repeats finds in a score.
struct Repeats {
  std::vector<RepeatGroup> groups;  ///< in order; they do not overlap
  base::Diagnostics diagnostics;    ///< what does not pair

  /// The group that a measure belongs to; nothing outside of repeats.
  const RepeatGroup* group_of(std::size_t measure) const;
};

/// A repeat's end without a start goes back to the beginning or to the place after the repeat
/// before it. A group ends with its last repeat sign, or with the last of the endings after it.
Repeats find_repeats(const Score& score);

}  // namespace yubifu::model
