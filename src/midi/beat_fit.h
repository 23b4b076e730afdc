// Notes fitted to one division of one beat.
#pragma once

#include <vector>

namespace yubifu::midi {

/// Where a note was played, in parts of its beat, and how sure that is.
struct PlayedOnset {
  double at = 0;      ///< in beats from the beat's start
  double spread = 0;  ///< standard deviation in beats
};

/// The parts at which the notes stand, and the sum of what that costs.
struct BeatFit {
  double cost = 0;
  std::vector<int> parts;  ///< rising; empty when the beat has no notes
};

/// What fit_beat costs at the least: that of the errors when each note stands on its nearest part.
double least_cost(const std::vector<PlayedOnset>& notes, int parts);

/// Puts the notes on rising parts of the division at the least cost: errors and steps, the cost of
/// the division itself not included. There are at most as many notes as parts.
BeatFit fit_beat(const std::vector<PlayedOnset>& notes, int parts);

}  // namespace yubifu::midi
