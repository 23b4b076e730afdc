// The cheapest way to finger a row of notes.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "fingering/effort.h"
#include "flute/flute.h"

namespace yubifu::fingering {

/// One way to play a note: an entry of the flute with one of its patterns, bent.
struct Candidate {
  std::size_t entry = 0;    ///< index into Flute::entries()
  std::size_t pattern = 0;  ///< index into the entry's patterns
  int bend_cents = 0;
};

/// A note to be fingered. Without candidates it is a gap, and nothing is known of the change into
/// it and out of it.
struct Task {
  std::vector<Candidate> candidates;  ///< in the order that decides between equals
  int haste_into = 1;  ///< of the change from the note before: 1 to 5, what its points count
};

/// A choice for every task, and what it costs in points of EffortTable.
struct Path {
  std::vector<std::optional<std::size_t>> chosen;  ///< index into Task::candidates; none for gaps
  std::vector<std::int64_t> effort;                ///< of each note with the change into it
  std::int64_t total = 0;
};

/// Every way to play a pitch, in the order of the flute's table, each with the pattern that the
/// player of its sign takes: the preferred one. `total_cents` counts from MIDI key 0.
std::vector<Candidate> candidates_for(const flute::Flute& flute, double total_cents,
                                      Allowed allowed = Allowed::everything);

/// The changes between all patterns of a flute, worked out once.
class Fingerwork {
 public:
  /// The flute must outlive this.
  Fingerwork(const flute::Flute& flute, const EffortTable& table);

  const flute::Flute& flute() const { return *flute_; }
  const EffortTable& table() const { return table_; }

  /// The points of a note and of a change, of EffortTable; `haste` from 1 to 5 as haste() gives it.
  NoteEffort note(const Candidate& candidate) const;
  std::int64_t change(const Candidate& from, const Candidate& to, int haste) const;

 private:
  const flute::Flute* flute_;
  EffortTable table_;
  std::vector<std::size_t> first_state_;  ///< of each entry; its patterns follow one another
  std::size_t state_count_ = 0;
  std::vector<std::int32_t> changes_;  ///< unhurried; state_count_ squared
};

/// The path of least effort. Of several with the same effort it is the one whose first choice
/// comes first among that note's candidates; if those are equal, the second, and so on. Time and
/// memory grow with the number of tasks.
Path cheapest_path(const Fingerwork& work, std::span<const Task> tasks);

/// For each candidate of each task: by how much the best path through it exceeds the best path.
/// Zero for what cheapest_path chooses.
std::vector<std::vector<std::int64_t>> detours(const Fingerwork& work, std::span<const Task> tasks);

}  // namespace yubifu::fingering
