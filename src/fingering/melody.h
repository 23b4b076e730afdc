// A whole melody under the fingers in the cheapest way: several flutes one after another, fixed
// notes among free ones, moved by octaves.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
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

/// The fingering that it is written as.
model::Fingering fingering_of(const flute::Flute& flute, const Candidate& candidate);

/// A note to be fingered. Without candidates it is a gap, and nothing is known of the change into
/// it and out of it; a change of flute is a fresh start, too.
struct Task {
  std::vector<Candidate> candidates;  ///< in the order that decides between equals
  int haste_into = 1;     ///< of the change from the note before: 1 to 5, what its points count
  std::size_t flute = 0;  ///< index into the list of Fingerwork
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
Path cheapest_path(const std::vector<Fingerwork>& flutes, const std::vector<Task>& tasks);

/// For each candidate of each task: by how much the best path through it exceeds the best path.
/// Zero for what cheapest_path chooses.
std::vector<std::vector<std::int64_t>> detours(const std::vector<Fingerwork>& flutes,
                                               const std::vector<Task>& tasks);

/// A tone that is fingered already, or a pitch that wants fingers.
struct MelodyTone {
  std::size_t flute = 0;           ///< as in Task
  std::optional<Candidate> fixed;  ///< the fingering it has
  std::optional<double> wanted;    ///< cents from MIDI key 0; none: a gap that stays one
  int haste_into = 1;              ///< as in Task
};

/// A melody and the fingers found for it.
struct FingeredMelody {
  std::vector<Task> tasks;  ///< one a tone
  Path path;
};

/// Shifts further than the ten octaves of MIDI are not looked at.
inline constexpr int kMostOctaves = 10;

/// How a melody lies at one shift.
struct Lie {
  int octave = 0;  ///< by which it is moved
  std::size_t gaps = 0;
  std::size_t third_register = 0;
  /// What decides between shifts and flutes: the effort of the path, where third-register notes
  /// count double with the change into them, and the points of the table for gaps and for flutes
  /// that stretch the hand.
  std::int64_t weight = 0;
};

/// A melody at the shift that suits it, and how it would lie at every other.
struct ShiftedMelody {
  Lie lie;
  FingeredMelody melody;
  std::vector<Lie> others;  ///< the lightest first
};

/// The tones with something to choose from, at a shift of the wanted pitches (fixed tones do not
/// move), and the cheapest path through them.
FingeredMelody finger(const std::vector<MelodyTone>& tones, const std::vector<Fingerwork>& flutes,
                      double shift_cents, Allowed allowed);

/// Whether a weight is the least one or at most a twentieth more: too little to feel.
bool weigh_alike(std::int64_t weight, std::int64_t least);

/// The melody at the shift in whole octaves that weighs least; of all that weigh at most a
/// twentieth more the one nearest to the written pitch, and of two as near the lower.
ShiftedMelody in_best_octave(const std::vector<MelodyTone>& tones,
                             const std::vector<Fingerwork>& flutes, double shift_cents,
                             Allowed allowed);

}  // namespace yubifu::fingering
