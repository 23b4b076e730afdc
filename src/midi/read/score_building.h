// The score of a melody that was found in a MIDI file.
#pragma once

#include <string>
#include <vector>

#include "base/findings.h"
#include "midi/read/bars.h"
#include "midi/read/note_times.h"
#include "midi/read/notes.h"
#include "midi/read/texts.h"
#include "model/score.h"

namespace yubifu::midi {

/// What the lyrics are: words of any file, or what a file of this program says they are.
enum class LyricKind { words, fingering, song, shoga };

/// Where directions may stand: as the file has them, or on notes and sixteenths of their bar.
enum class DirectionPlaces { as_written, simple };

/// What the score is made of; everything but `times` in ticks of the file.
struct ScoreParts {
  const NoteTimes* times = nullptr;
  std::vector<BentPitch> pitches;   ///< one a note
  std::vector<std::string> lyrics;  ///< one a note, empty where nothing is sung
  Surroundings surroundings;
  LyricKind lyric_kind = LyricKind::words;
  DirectionPlaces places = DirectionPlaces::simple;
};

/// Directions that may not stand where they do go to the nearest quarter note of their bar; texts
/// and markers behind the music are left out. Both are found.
model::Score build_score(const ScoreParts& parts, const BarLayout& layout,
                         base::Findings& findings);

}  // namespace yubifu::midi
