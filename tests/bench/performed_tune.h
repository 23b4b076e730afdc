// A tune as a person plays it: right notes, nearly right times.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace yubifu::bench {

enum class Rhythm {
  binary,  ///< quarters, eighths and sixteenths, as they come, filling beat after beat
  mixed,   ///< the same, and every third beat (at random) three triplet eighths
};

/// A note as it was meant, in twelfths of a quarter note, which hold sixteenths and triplets.
struct MeantNote {
  std::int64_t begin = 0;
  std::int64_t end = 0;
  int parts = 1;  ///< into how many equal parts its beat is divided at least
};

std::vector<MeantNote> random_tune(Rhythm rhythm, std::size_t beats, std::uint64_t seed);

/// How it is played: onsets and ends with normal errors of this standard deviation.
struct Playing {
  double beats_per_minute = 100;
  double error_ms = 15;
  std::uint64_t seed = 1;
  double held = 1;   ///< how much of its length each note sounds: 1 is legato
  double drift = 0;  ///< by which share the tempo is faster (slower) at the end than at the start
  std::optional<double> file_tempo = std::nullopt;  ///< of a file that does not know the player's
};

/// Onset and end in ticks, 480 to a quarter note.
struct PlayedNote {
  std::int64_t begin = 0;
  std::int64_t end = 0;
};
inline constexpr int kPlayedTicks = 480;

/// Each note ends where the next one begins, or before by the share that is not held, but for its
/// own error. Onsets stay in order.
std::vector<PlayedNote> play(const std::vector<MeantNote>& tune, const Playing& playing);

/// A MIDI file in 4/4 of those notes, at that tempo; the first beat is beat `lead` of the file, so
/// that early notes have room.
std::string performed_file(const std::vector<PlayedNote>& notes, double beats_per_minute);
inline constexpr std::int64_t kLeadBeats = 4;

/// The share of notes whose onset and length came out as they were meant.
double share_right(const std::vector<MeantNote>& tune, const std::vector<MeantNote>& read);

/// Of onsets alone: how long a detached note is meant to be is not told by how it is played.
double share_begun_right(const std::vector<MeantNote>& tune, const std::vector<MeantNote>& read);

/// What a reader of MIDI makes of the file.
std::vector<MeantNote> read_back(const std::string& file);

/// What someone makes of it who knows into how many parts each beat is divided: each onset goes to
/// the nearest part, and each note lasts until the next.
std::vector<MeantNote> oracle(const std::vector<MeantNote>& tune,
                              const std::vector<PlayedNote>& played);

}  // namespace yubifu::bench
