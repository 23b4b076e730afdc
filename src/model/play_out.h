// Bars of a score as another score: played out, with repeats, endings and jumps, or an excerpt; and
// by which numbers other programs know the tones.
#pragma once

#include "model/score.h"

namespace yubifu::model {

/// More than this is never played: nested counts and mutual jumps must end.
inline constexpr std::size_t kMostPlayedMeasures = 100'000;
inline constexpr std::size_t kMostPlayedNotes = 1'000'000;

/// The measures in the order they sound, as indexes into Score::measures. Each D.C. or D.S. is
/// followed once, inside a repeat on the last time through; after it repeats are not taken again
/// and the last ending is played; the music stops at fine, or goes from to-coda to the next coda.
/// A D.S. goes back to the nearest segno. Reports jumps without a target, repeats and endings that
/// do not pair (a repeat end without a start goes back to the beginning or to the place after the
/// last repeat) and the limits, where the order ends early.
base::Outcome<std::vector<std::size_t>> played_order(const Score& score);

/// A played-out score and, for each of its notes, the index of the written note.
struct PlayedScore {
  Score score;  ///< without repeats, endings and jumps
  std::vector<std::size_t> source;
};

/// Unfolds the score. Where the playing arrives from elsewhere, a note that is held over is struck
/// anew, with a warning and without its syllables, marks and grace notes, and the tempo, the key
/// and the flute are those of the written place; a note held into a place that is not played next
/// ends at the bar. Measures keep their numbers. Throws TimeOverflow only for broken invariants.
base::Outcome<PlayedScore> play_out(const Score& score);

/// Bars of a score, and which of its flutes is the first of theirs.
struct Excerpt {
  Score score;
  std::size_t first_flute = 0;  ///< index into Score::flutes of the whole
};

/// The measures from the first one whose printed number is `first` to the last one, after it, whose
/// number is `last`; meter, beat, tempo, key and flute in force where they begin stand in the
/// header. Measures keep their numbers. A note that is held into them from before begins anew at
/// their start, without grace notes before it and without its syllables; what is held beyond them
/// is cut. Nothing where there are no such measures.
std::optional<Excerpt> excerpt(const Score& score, int first, int last);

/// All tones of a score have numbers in the order in which they are written, from 0: of each note
/// its grace notes before it, itself, its grace notes after it. For each note, its own number.
std::vector<std::size_t> tone_numbers(const Score& score);

}  // namespace yubifu::model
