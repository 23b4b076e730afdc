// From what a reader found to a score in which every tone has fingers (or is a gap), a pitch and a
// hole pattern, for the flute in the player's hand.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/diagnostic.h"
#include "fingering/effort.h"
#include "fingering/flute_line.h"
#include "flute/flute.h"
#include "model/score.h"

namespace yubifu::fingering {

/// How the score came, and so what stays when the flute changes.
enum class Origin {
  fingers,  ///< fingering text, score JSON: the fingers stay and the sound moves
  staff,    ///< staff files: the pitch stays; whole semitones on the nearest size of the flute
  sound,    ///< MIDI: the pitch stays, to the cent
};

/// What becomes of fingers that the score has.
enum class Refinger {
  where_needed,  ///< only tones without fingers get them, and all when the pitch must stay but
                 ///< flute, octave or key change
  all,           ///< every pitch stays and gets new fingers
};

/// Whatever suits the flute.
struct AutoOctave {};

/// Whatever suits the flute where a staff or MIDI file is fingered by us; where it was written is
/// where it stays for fingers, and for a staff or sound that names a flute or has fingers already.
struct UsualOctave {};

/// So many octaves up (down is negative), or a rule that finds them.
using OctaveChoice = std::variant<int, AutoOctave, UsualOctave>;

/// Whether the reasons are kept.
enum class Explain { nothing, every_tone };

/// What to finger for, and what may change.
struct ResolveOptions {
  Origin origin = Origin::fingers;
  std::optional<model::FluteName> flute;  ///< instead of the flute that the score names
  Refinger refinger = Refinger::where_needed;
  /// A number other than 0 moves the pitch, so all tones get new fingers. The rules move a score
  /// only when none of its tones keeps its fingers.
  OctaveChoice octave = 0;
  int move_semitones = 0;           ///< as with octaves, other than 0 means new fingers
  std::optional<double> tuning_hz;  ///< A4, instead of the score's
  FluteSupply flutes;               ///< built_in_size() when empty
  EffortTable effort;
  Allowed allowed = Allowed::everything;
  Explain explain = Explain::nothing;
};

/// A score that is ready to be written, with the flutes it is played on.
struct Resolved {
  model::Score score;
  /// One for each of score.flutes.
  std::vector<std::shared_ptr<const flute::Flute>> flutes;
  int octave_shift = 0;
  std::int64_t effort = 0;  ///< of the whole score, in the points of the effort table
  /// Lines that tell each tone's candidates, their effort and why one won; empty unless asked for.
  std::vector<std::string> explanation;
};

/// Fills the flutes, fingering, pitch, spelling and holes of every tone, also of grace notes.
/// What stays: fingers where the options let them, gaps among them; pitches otherwise. A tone
/// that has both fingers and a pitch keeps its fingers. Pitches are those of the fingers found,
/// bend included (whole cents); a pitch out of reach becomes a gap. Header and directions name
/// the new flute, the new key and a tuning given as an option.
///
/// A staff note without a fraction of a semitone means that note of a flute whose size has an
/// offset (half sizes, 6+15c), because such flutes are written as the nearest size.
///
/// Without a value only when a flute cannot be had. Each finding names the measures it stood in.
base::Outcome<Resolved> resolve(model::Score score, const ResolveOptions& options);

}  // namespace yubifu::fingering
