// Which flute lets a melody lie under the fingers, and in which octave.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "fingering/resolve.h"

namespace yubifu::fingering {

/// A measure and the points of the tones that start in it, with the changes into them.
struct MeasureEffort {
  std::string number;  ///< as printed
  std::int64_t effort = 0;
};

/// Whether a melody may be moved into another key.
enum class Keys { as_given, any };

/// A melody on one flute, in the octave (and key, if any may be taken) that suits it best. Grace
/// notes count as notes. A note may be half-holed, bent and loud at once; a plain one is neither
/// half-holed nor bent.
struct Fit {
  model::FluteName flute = model::kDefaultFluteSize;
  std::string title;
  model::Spelling ichi;  ///< the note of 一, its do
  int pitch_number = 0;  ///< the singer's for whom 三 is right: 1 to 12
  int octave = 0;        ///< by which the melody is moved
  int semitones = 0;     ///< by which it is moved beside that, -5 to 6; 0 with Keys::as_given
  int moved = 0;         ///< all semitones beside the octave, those of the options among them
  std::size_t notes = 0;
  std::size_t plain = 0;
  std::size_t half_usual = 0;  ///< 三メ 七メ 3メ 7メ
  std::size_t half_hard = 0;   ///< the other half holes
  std::size_t bent = 0;
  std::size_t loud = 0;  ///< flute::is_loud()
  std::size_t out_of_reach = 0;
  std::int64_t effort = 0;               ///< Lie::weight
  double effort_a_note = 0;              ///< rounded to one decimal, as it is compared
  std::optional<MeasureEffort> hardest;  ///< the first of equals; none without effort
  std::string remark;                    ///< on the stretch of the hand; mostly empty
};

/// What the pitches of a melody mean on flutes whose size has an offset in cents.
enum class Pitches {
  sounding,  ///< what is heard, to the cent
  nominal,   ///< whole semitones are such a flute's own notes, as on a staff that names no flute
};

/// What is ranked, and how.
struct RankOptions {
  EffortTable effort;
  Allowed allowed = Allowed::everything;
  double tuning_hz = model::kConcertPitchHz;  ///< A4
  int move_semitones = 0;
  Pitches pitches = Pitches::sounding;
  Keys keys = Keys::as_given;
  /// A singer's pitch number, 1 to 12: the melody is moved so that what sounded at 三 of the
  /// score's first flute sounds at that pitch. Octaves do not matter.
  std::optional<int> pitch_number;
  std::vector<flute::Flute> flutes;         ///< to choose from; the sizes 1 to 13 when empty
  std::vector<model::FluteName> preferred;  ///< such as a player owns: they come first
};

/// The sizes 1 to 13 in the order in which players own them (our choice): 7, 6, 8, then the nearer
/// to 6 and 7, then the smaller.
std::vector<int> usual_sizes();

/// The built-in flutes of the sizes 1 to 13.
std::vector<flute::Flute> whole_sizes(double tuning_hz);

/// Best first: the preferred flutes, then least effort a note; of equals in the order of
/// usual_sizes(), flutes of files after sizes, in their order. Octaves are those that
/// in_best_octave() finds, as resolve() does with AutoOctave. Of the keys for one flute that are
/// equal in this the one nearest to the given one counts, the higher before the lower. The pitches
/// of the resolved score count, not its fingers. Time grows with the notes times the flutes (times
/// twelve with Keys::any).
std::vector<Fit> rank_flutes(const Resolved& resolved, const RankOptions& options);

/// The singer's pitch number of a MIDI key: 1 is A, 4 C, 6 D, 8 E, in any octave.
int pitch_number(int midi_key);

}  // namespace yubifu::fingering
