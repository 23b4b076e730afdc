// How late all notes of a melody come.
#pragma once

#include <cstdint>
#include <vector>

#include "midi/tempo_list.h"
#include "midi/timed.h"

namespace yubifu::midi {

/// Whether the onsets sit on a grid of their own.
enum class OnsetGrid { none, fine };

/// By how many ticks every note comes late (early where negative): zero where nothing speaks for
/// it. A lateness on the eighths or triplets of the quarter note is music and no lateness. On a
/// grid it must be exact, so that what it leaves is a simpler one; otherwise the notes that a
/// person played tell it.
std::int64_t constant_lateness(const std::vector<TickSpan>& notes, const FileClock& clock,
                               OnsetGrid grid);

}  // namespace yubifu::midi
