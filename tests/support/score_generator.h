// Random scores for property tests: sound by the invariants, and in the form in which a reader of
// fingering text gives them. It shares no code with the readers, the writers and the rhythm tree.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "model/score.h"

namespace yubifu::support {

/// How finely time is divided.
enum class RhythmKind {
  simple,   ///< halves, quarters and dotted values down to a sixteenth of a quarter
  tuplets,  ///< also groups of 3, 5, 7 …, never one inside another
  any,      ///< nested groups; denominators up to 64 times 3, 5, 7
};

/// What a generated score may hold. The default is everything that a fingering text can say with
/// the standard signs; switch off what a test cannot use.
struct GeneratorOptions {
  int fewest_measures = 1;
  int most_measures = 12;
  RhythmKind rhythm = RhythmKind::any;
  /// Each is as likely as often it stands here.
  std::vector<model::Register> registers{model::Register::tube,   model::Register::low,
                                         model::Register::low,    model::Register::low,
                                         model::Register::second, model::Register::second,
                                         model::Register::second, model::Register::third};
  bool only_built_in_signs = false;  ///< no 6̇ and 7̇, which few flutes have
  bool own_signs = false;            ///< signs that only a flute file defines
  bool flute_files = false;          ///< paths as names of flutes
  bool half_holes = true;
  bool over_half_holes = true;  ///< カ beside メ
  bool bends = true;
  int most_bend_cents = model::kMostBendCents;
  bool gaps = true;
  int lowest_gap_key = 55;  ///< sounding MIDI keys of gaps, both included
  int highest_gap_key = 108;
  bool grace_notes = true;
  bool asked_holes = true;
  bool marks = true;  ///< all but grace notes and patterns, on notes and rests
  bool slurs = true;
  bool header_fields = true;  ///< names, unknown fields, tuning, staff, zero, key
  bool tempos = true;         ///< in the header and later
  bool key_changes = true;
  bool directions = true;  ///< section, text, dynamics, rit …
  bool flute_changes = true;
  bool repeats = true;  ///< repeats and endings
  bool jumps = true;    ///< D.C., D.S., segno, coda, fine
  bool until_cue = true;
  bool ties_over_bars = true;
  bool ties_over_repeats = true;  ///< also into endings and where a jump leaves or arrives
  bool short_bars = true;         ///< pickups and other short bars that need no word
  bool irregular_bars = true;
  bool free_meter = true;
  bool meter_changes = true;
  bool odd_beats = true;  ///< beats other than the default
  bool beat_changes = true;
  bool rests = true;
  bool song_text = true;
  bool comments = true;  ///< comments and line breaks
};

/// Every tone has a fingering (a gap a spelling); pitches are left to fingering/.
model::Score random_score(std::mt19937_64& random, const GeneratorOptions& options = {});
model::Score random_score(std::uint64_t seed, const GeneratorOptions& options = {});

}  // namespace yubifu::support
