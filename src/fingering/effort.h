// What fingers and breath are asked for, in points, all in one table that can be argued about.
#pragma once

#include <cstddef>
#include <cstdint>

#include "flute/flute.h"
#include "model/flute_name.h"

namespace yubifu::fingering {

/// The points of a single note and of the change from one note to the next. The scale is
/// arbitrary: one finger that moves is 2. All values are our choice, tuned until traditional tunes
/// came out in the fingers in which they are taught.
struct EffortTable {
  /// Half holes that every player uses. When 0 is easier than 七メ is our choice: only with this
  /// number 0 wins in a slow 六 0 六 (26 against 29) and 六 0 七 (28 against 29), and 七メ in a
  /// slow 七 七メ 七 (29 against 30) and in all of them when they go faster.
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
  /// Each finger that lifts, closes or comes to or from a half hole. Holes that are closed only
  /// to steady the flute cost nothing either way.
  int moved_finger = 2;
  /// Each pair of fingers of which one lifts while the other closes.
  int crossing_pair = 1;
  /// Each step between low (with the tube tone), second and third register: the breath changes.
  int register_break = 4;
  /// Added to notes that `--avoid` names: more than any detour, less than leaving a note out.
  int avoided = 1000;
  /// A note without fingers, where shifts and flutes are weighed; with `avoided` beside it where
  /// something is to be avoided.
  int gap = 150;
  /// For every four notes on a flute that stretches the hand or crowds the fingers (stretch_of()):
  /// as much as a half hole, so that nobody is sent to such a flute for a few of them.
  int stretch_per_four_notes = 25;
  /// What `--avoid` names.
  bool avoid_half_holes = false;
  bool avoid_bends = false;
  bool avoid_third_register = false;
  bool avoid_cross_fingering = false;

  /// Whether any of them is to be avoided.
  bool avoids() const {
    return avoid_half_holes || avoid_bends || avoid_third_register || avoid_cross_fingering;
  }
};

/// Which of the flute's entries may be used at all.
enum class Allowed {
  everything,
  plain,  ///< no half holes and no bends; what needs one becomes a gap
};

/// How often what the fingers must do counts (our choice) by the time from the start of one note to
/// the next: 1 for time to spare, up to 5 for a rushed change. Only doing is hurried: the care that
/// a half hole, a bend or a loud note asks for is the same at any speed.
int haste(double seconds);

/// Whether the holes of a flute lie far apart for the hand (sizes below 3) or close together for
/// the fingers (above 10; both our choice). Nothing is known of flutes that a file describes.
enum class Stretch { none, long_flute, short_flute };
Stretch stretch_of(const model::FluteName& flute);

/// The points of one note by reason: the care it asks for, the change into it apart.
struct NoteEffort {
  int half_hole = 0;
  int bend = 0;
  int third_register = 0;
  int cross_fingering = 0;
  int avoided = 0;

  std::int64_t total() const {
    return std::int64_t{half_hole} + bend + third_register + cross_fingering + avoided;
  }
};

/// The points of the change from one note to the next by reason.
struct ChangeEffort {
  int fingers = 0;
  int crossing = 0;
  int register_break = 0;
  int haste = 1;  ///< multiplies all three

  std::int64_t total() const { return std::int64_t{haste} * (fingers + crossing + register_break); }
};

/// `pattern` is an index into the entry's patterns. A half hole counts where the pattern has one:
/// 7メ overblown from 0 is a cross-fingering.
NoteEffort note_effort(const EffortTable& table, const flute::Entry& entry, std::size_t pattern,
                       int bend_cents);

/// From one pattern to another of the same flute.
ChangeEffort change_effort(const EffortTable& table, const flute::Entry& from,
                           std::size_t from_pattern, const flute::Entry& to, std::size_t to_pattern,
                           int haste);

}  // namespace yubifu::fingering
