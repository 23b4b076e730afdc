// How exactly the notes of a file were played, and the best guess at each onset.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "midi/quantiser.h"

namespace yubifu::midi {

/// An onset in ticks and its standard deviation in milliseconds.
struct Onset {
  double tick = 0;
  double spread = 0;
};

/// What the notes of a file tell of the player.
class TimingSpread {
 public:
  /// That of an ordinary player, before anything is known; ends say nothing.
  TimingSpread() = default;

  /// Measured on the notes against the onsets they were meant for.
  TimingSpread(const std::vector<TickSpan>& played, const std::vector<std::int64_t>& meant,
               const QuantiserTime& time);

  /// A note that follows another at once.
  struct Joined {
    double gap = 0;   ///< ticks from the end of the note before
    double step = 0;  ///< ticks from its onset, as far as is known what was meant
  };

  /// The best guess at an onset played at `tick`.
  Onset best_onset(double tick, const std::optional<Joined>& joined,
                   double milliseconds_per_tick) const;

 private:
  double late_ = 0;  ///< all in milliseconds: how late onsets come
  double spread_ = 20;
  std::optional<double> end_spread_;
  double gap_ = 0;        ///< between joined notes,
  double gap_share_ = 0;  ///< and the share of the first note that it takes besides
};

}  // namespace yubifu::midi
