// The events of one track chunk, checked and copied in clean form.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/findings.h"
#include "base/message.h"
#include "midi/smf/scan.h"

namespace yubifu::midi {

/// One more repair of a damaged file. `offset` counts bytes from the start of the file. `sentence`
/// makes the message and is called only for the first repair of a rule.
template <typename Sentence>
void add_repair(base::Findings& repairs, const base::Rule& rule, std::size_t offset,
                Sentence sentence) {
  base::Finding& repair = repairs.of(rule);
  if (repair.count == 0) {
    repair.told.message = base::message("at byte {}: {}", offset, sentence());
  }
  repair.add(base::kNoBar);
}

/// Where a track chunk's events lie in the file. `offset_of_zero` is added to offsets in messages,
/// for a file inside another one.
struct TrackPlace {
  std::string_view file;
  std::size_t begin = 0;
  std::size_t end = 0;
  std::size_t offset_of_zero = 0;
};

/// Counts what every track adds to.
struct ScanTotals {
  std::size_t events = 0;
  std::int64_t most_ticks = 0;  ///< a time past this is damage
};

/// Appends the track to `to`, up to its End of Track or the first damage. Returns where to go on:
/// the end of the chunk, or sooner where the chunk's length was wrong and the next track begins
/// right after End of Track.
std::size_t scan_track(const TrackPlace& place, ScanTotals& totals, ScannedFile& to,
                       base::Findings& repairs);

}  // namespace yubifu::midi
