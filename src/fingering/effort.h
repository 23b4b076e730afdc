// What fingers and breath are asked for, in points: one table, so that one place can be argued
// about.
#pragma once

#include <cstddef>
#include <cstdint>

#include "flute/entry.h"

namespace yubifu::fingering {

/// The points of a single note and of the change from one note to the next. The scale is
/// arbitrary: one finger that moves is 2. All values are this program's choice, tuned until
/// traditional tunes came out in the fingers in which they are taught.
struct EffortTable {
  /// Half holes that every player uses: worth more than the six moves it takes to reach 0 from 六
  /// and go back, less than the same from 七.
  int half_hole_usual = 25;
  /// Half holes that want practice.
  int half_hole_harder = 35;
  /// Half holes that seldom speak at once.
  int half_hole_hard = 50;
  /// A bend, for every five cents begun: a full bend of 50 cents weighs almost a half hole.
  int bend_per_five_cents = 2;
  /// A third-register note: loud, and the breath must be strong.
  int third_register = 12;
  /// A cross-fingering speaks a little less clearly than a plain one.
  int cross_fingering = 2;
  /// A pattern that is not the first choice for its sign: taken only where it saves three moves.
  int second_choice = 6;
  /// Each finger that lifts, closes or comes to or from a half hole. Holes that are closed only
  /// to steady the flute cost nothing either way.
  int moved_finger = 2;
  /// Each pair of fingers of which one lifts while the other closes.
  int crossing_pair = 1;
  /// Each step between low (with the tube tone), second and third register: the breath changes.
  int register_break = 4;
  /// Added to notes that `--avoid` names: more than any detour, less than leaving a note out.
  int avoided = 1000;
  /// What `--avoid` names.
  bool avoid_half_holes = false;
  bool avoid_bends = false;
  bool avoid_third_register = false;
};

/// Which of the flute's entries may be used at all.
enum class Allowed {
  everything,
  plain,  ///< no half holes and no bends; what needs one becomes a gap
};

/// The times in seconds up to which a note counts as short, and how often its points count then.
/// Longer notes count once.
inline constexpr double kHurriedSeconds = 0.30;  ///< twice: eighths at 120 quarters a minute
inline constexpr double kFastSeconds = 0.15;     ///< three times: sixteenths
inline constexpr double kRushedSeconds = 0.08;   ///< four times: ornaments

/// 1 for a note with time to spare, up to 4 for a rushed one.
int haste(double seconds);

/// The points of one note by reason; what the note is asked to do, the change into it apart.
struct NoteEffort {
  int half_hole = 0;
  int bend = 0;
  int third_register = 0;
  int cross_fingering = 0;
  int second_choice = 0;
  int avoided = 0;
  int haste = 1;  ///< multiplies the first four

  std::int64_t total() const {
    return std::int64_t{haste} * (half_hole + bend + third_register + cross_fingering) +
           second_choice + avoided;
  }

  friend bool operator==(const NoteEffort&, const NoteEffort&) = default;
};

/// The points of the change from one note to the next by reason.
struct ChangeEffort {
  int fingers = 0;
  int crossing = 0;
  int register_break = 0;
  int haste = 1;  ///< multiplies all three

  std::int64_t total() const { return std::int64_t{haste} * (fingers + crossing + register_break); }

  friend bool operator==(const ChangeEffort&, const ChangeEffort&) = default;
};

/// `pattern` is an index into the entry's patterns. A half hole counts where the pattern has one:
/// 7メ overblown from 0 is a cross-fingering.
NoteEffort note_effort(const EffortTable& table, const flute::Entry& entry, std::size_t pattern,
                       int bend_cents, int haste);

/// From one pattern to another of the same flute.
ChangeEffort change_effort(const EffortTable& table, const flute::Entry& from,
                           std::size_t from_pattern, const flute::Entry& to, std::size_t to_pattern,
                           int haste);

}  // namespace yubifu::fingering
