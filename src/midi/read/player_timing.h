// How a player's notes lie beside the beat: all late by as much, and spread around it.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "midi/read/quantiser.h"
#include "midi/read/tempos.h"
#include "midi/smf/events.h"

namespace yubifu::midi {

/// Whether the onsets sit on a grid of their own.
enum class OnsetGrid { none, fine };

/// By how many ticks every note comes late (early where negative): zero where nothing speaks for
/// it. A lateness on the eighths or triplets of the quarter note is music and no lateness. On a
/// grid it must be exact, so that what it leaves is a simpler one; otherwise the notes that a
/// person played tell it.
std::int64_t constant_lateness(const std::vector<TickSpan>& notes, const FileClock& clock,
                               OnsetGrid grid);

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
