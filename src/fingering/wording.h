// What is told of fingers: the sentences, the notes without fingers together, with what would
// help, why others were taken, and how it all lies in figures.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "base/findings.h"
#include "fingering/melody.h"
#include "fingering/resolve.h"
#include "fingering/tones.h"
#include "flute/flute.h"
#include "model/score.h"

namespace yubifu::fingering {

/// A message and what to do about it.
struct Wording {
  std::string message;
  std::string hint;
};

/// The signs of its table, each once, parted by spaces.
std::string plain_signs(const flute::Flute& flute);

/// For a sign that is not in the table.
Wording missing_sign(const flute::Flute& flute, const model::Fingering& fingering);

/// For a half hole that is not in the table beside a plain sign that is; offers what sounds that
/// pitch, and of nメ also the bend that it may stand for.
Wording missing_half_hole(const flute::Flute& flute, const model::Fingering& fingering);

/// For a bend outside the limits of its entry; offers what comes nearer.
Wording far_bend(const flute::Flute& flute, const model::Fingering& fingering, std::size_t entry);

/// For a melody that was moved to lie on a flute: how it lies there, in the next best octave and
/// as written. `others` are the other octaves, the lightest first.
Wording shift(const flute::Flute& flute, const Lie& chosen, const std::vector<Lie>& others);

/// For a fingering that sounds another key than the one written.
Wording disagreement(const flute::Flute& flute, const model::Tone& tone, int sounding_key);

/// A score that is fingered, and how. `places`, `tones` and the tones of the score go side by side.
struct FingeredScore {
  const model::Score& score;
  const std::vector<TimedTone>& places;
  const std::vector<MelodyTone>& tones;
  const std::vector<Fingerwork>& works;  ///< of each flute
  const ResolveOptions& options;
  double shift_cents = 0;  ///< by which the wanted pitches were moved
  enum class Fingers { kept, found } fingers = Fingers::found;
  enum class Octave { given, found } octave = Octave::given;
};

/// Reports `out-of-reach` once a flute, with the number of notes, their bars and the option that
/// leaves fewer of them: an octave, or the first of the usual sizes; and `needless-gap` for gaps of
/// the score that the flute has fingers for.
void report_gaps(const FingeredScore& fingered, base::Findings& findings);

/// What Resolved::explanation says of a score that was fingered so.
std::vector<std::string> explanation(const FingeredScore& fingered, const FingeredMelody& melody);

/// Grace notes count as notes. One note may be half-holed, bent and in the third register.
struct Summary {
  std::string flute_title;  ///< of the flute at the start
  int octave_shift = 0;
  std::size_t notes = 0;
  std::size_t half_holed = 0;  ///< spelled with メ or カ
  std::size_t bent = 0;        ///< gaps aside
  std::size_t third_register = 0;
  std::size_t gaps = 0;
  std::size_t loud = 0;  ///< flute::is_loud(): where there are any, hearing_caution() is due

  friend bool operator==(const Summary&, const Summary&) = default;
};

/// Of the notes in the wanted measures alone, and of the flute that the first of them is played on.
Summary summarize(const Resolved& resolved,
                  const std::function<bool(const model::Measure&)>& is_wanted);

}  // namespace yubifu::fingering
