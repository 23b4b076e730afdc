// A file that is being scanned, and the events of one track chunk, checked and copied in clean
// form.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/findings.h"
#include "midi/smf/scan.h"

namespace yubifu::midi {

/// What the scan of a file has come to.
struct Scan {
  std::string_view file;
  std::size_t offset_of_zero = 0;  ///< added to offsets in messages, for a file inside another one
  std::int64_t most_ticks = 0;     ///< a time past this is damage
  std::size_t events = 0;          ///< of all tracks
  ScannedFile result = {};
  base::Findings repairs = {};

  /// One more repair of a damaged file, at a byte of it. The first one of a rule is told.
  void repair(const base::Rule& rule, std::size_t at, const std::string& message);
};

/// Appends a track whose events lie in [begin, end) to the result, up to its End of Track or the
/// first damage. Returns where to go on: the end of the chunk, or sooner where the chunk's length
/// was wrong and the next track begins right after End of Track.
std::size_t scan_track(Scan& scan, std::size_t begin, std::size_t end);

}  // namespace yubifu::midi
