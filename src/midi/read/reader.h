// Standard MIDI Files to scores: the melody of a file, from whatever program or player it came.
#pragma once

#include <optional>
#include <string_view>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::midi {

/// Which notes of chords are the melody.
enum class Line { top, bottom };

/// What the texts of the file are written in. Automatic takes UTF-8 where that is valid, otherwise
/// Shift_JIS (as Windows has it) where every text is valid in it, otherwise Latin-1 with a warning.
enum class Charset { automatic, utf8, shift_jis, latin1 };

/// Whether only the music is told of, or also what the file leaves behind for what is played next.
enum class Scrutiny { music, whole_file };

/// The finest `grid`: parts of a quarter note.
inline constexpr int kFinestGrid = 96;

/// The slowest and the fastest `played_tempo`.
inline constexpr int kSlowestPlayed = 20;
inline constexpr int kFastestPlayed = 400;

/// What the user decides of a file; without it the file is asked.
struct MidiReadOptions {
  std::optional<int> track;    ///< of the melody, counted from 1 in the order of the file
  std::optional<int> channel;  ///< of the melody, 1 to 16
  Line line = Line::top;
  Charset charset = Charset::automatic;
  /// Every onset and end goes to the nearest of so many parts of a quarter note, 1 to kFinestGrid.
  /// Absent: only where the notes do not sit on a grid, and to the simplest divisions of each beat
  /// that explain them.
  std::optional<int> grid;
  /// By how many quarter notes every note is late, early where negative. Absent: found, and then
  /// the clock of the file is doubted too.
  std::optional<model::Rational> offset;
  /// Beats a minute, give or take some per cent, kSlowestPlayed to kFastestPlayed. Absent: the
  /// clock of the file, unless it explains the notes clearly worse than another.
  std::optional<double> played_tempo;
  std::optional<model::Meter> meter;  ///< where the file has none; free without it
  Scrutiny scrutiny = Scrutiny::music;
};

/// Reads formats 0 and 1. One track and channel is the melody, chosen by rule and told where there
/// was a choice; its notes get pitch (bends included), onset and duration, and the syllables that
/// the file sings on them. A file of this program gets its header fields back, and its fingering
/// where the lyrics are marked as such. Offsets of bytes are in the messages, not in their places.
base::Outcome<model::Score> read_midi(std::string_view bytes, const MidiReadOptions& options);

}  // namespace yubifu::midi
