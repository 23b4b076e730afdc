// Repeats, endings and jumps played out.
#pragma once

#include <cstddef>
#include <vector>

#include "base/outcome.h"
#include "model/score.h"

namespace yubifu::model {

/// More measures than this are never played: mutual jumps and nested counts must end.
inline constexpr std::size_t kMostPlayedMeasures = 100'000;

/// The measures in the order they sound, as indexes into Score::measures. After D.C. or D.S.
/// repeats are not taken again and the last ending is played; the music stops at fine, or goes
/// from to-coda to coda. Reports jumps without a target, repeats that do not pair (a repeat end
/// without a start goes back to the beginning or to the place after the last repeat) and the
/// limit.
base::Outcome<std::vector<std::size_t>> played_order(const Score& score);

/// A played-out score and, for each of its notes, the index of the written note.
struct PlayedScore {
  Score score;  ///< without repeats, endings and jumps
  std::vector<std::size_t> source;
};

/// Unfolds the score. A note held over a place where the playing arrives from elsewhere is struck
/// anew there, with a warning; one held into a place that is not played next ends at the bar.
base::Outcome<PlayedScore> play_out(const Score& score);

}  // namespace yubifu::model
