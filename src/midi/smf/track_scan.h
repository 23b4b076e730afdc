// The events of one track chunk, checked and copied in clean form.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/message.h"
#include "midi/smf/scan.h"

namespace yubifu::midi {

// Repairs of a damaged file: each kind told once, with its first place and how many there are.

/// Gathers the repairs of a file, one finding a rule.
class Repairs {
 public:
  /// `offset` counts bytes from the start of the file. `sentence` makes the message and is called
  /// only for the first repair of a rule.
  template <typename Sentence>
  void add(const base::Rule& rule, std::size_t offset, Sentence sentence) {
    for (Entry& entry : entries_) {
      if (entry.rule != &rule) continue;
      ++entry.more;
      return;
    }
    entries_.push_back({&rule, base::message("at byte {}: {}", offset, sentence()), 0});
  }

  /// In the order of the first places, with the number of further ones.
  base::Diagnostics diagnostics() const {
    base::Diagnostics list;
    for (const Entry& entry : entries_) {
      const std::string more =
          entry.more == 0 ? std::string() : base::message(" (and {} more like it)", entry.more);
      list.push_back(base::report(*entry.rule, {}, entry.message + more));
    }
    return list;
  }

 private:
  struct Entry {
    const base::Rule* rule = nullptr;
    std::string message;
    std::size_t more = 0;
  };
  std::vector<Entry> entries_;
};

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
                       Repairs& repairs);

}  // namespace yubifu::midi
