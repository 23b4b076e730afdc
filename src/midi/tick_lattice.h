// Whether times sit on a grid, and on which part of the quarter note each of them is.
#pragma once

#include <cstdint>
#include <vector>

#include "midi/tempo_list.h"
#include "midi/tick_span.h"

namespace yubifu::midi {

/// How the times of a file are to be read.
enum class TimeReading {
  exact,           ///< onsets and ends say what they mean
  ends_quantised,  ///< onsets do, ends do not
  quantised,       ///< played by a person
};

/// The ticks of a file and the finer ones of the quantiser, in which a division that the file could
/// only round has its exact place.
class TickLattice {
 public:
  /// `fine_ppq` is a multiple of the ticks a quarter note that the file has.
  TickLattice(const MusicalTime& time, std::int64_t fine_ppq);

  /// A file tick in fine ticks, moved to the simple part of the quarter note that it rounds.
  std::int64_t snapped(std::int64_t tick) const;

  /// A file tick in fine ticks, as it is.
  std::int64_t plain(std::int64_t tick) const { return tick * factor_; }

  /// Times sit on a grid when nine tenths of the quarter notes with onsets (or ends) divide into at
  /// most sixteen equal parts at which they stand, parts of at least four ticks.
  TimeReading reading(const std::vector<TickSpan>& notes) const;

 private:
  /// The parts of the quarter note that a tick stands on: the denominator.
  std::int64_t parts_of(std::int64_t tick) const;

  template <typename TickOf>
  bool sit_on_grid(const std::vector<TickSpan>& notes, TickOf tick_of) const;

  MusicalTime time_;
  std::int64_t factor_;
};

}  // namespace yubifu::midi
