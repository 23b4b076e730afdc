// Why each note got the fingers it has, as a value that somebody else prints.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "fingering/melody.h"
#include "fingering/tones.h"

namespace yubifu::fingering {

/// Whether the reasons are kept.
enum class Explain { nothing, every_tone };

/// One way in which a tone could have been played.
struct ExplainedCandidate {
  model::Fingering fingering;
  model::HolePattern holes;
  NoteEffort note;
  std::optional<ChangeEffort> change;  ///< from the fingers chosen before; none after a gap
  std::int64_t detour = 0;             ///< how much more the whole melody would cost this way
};

/// A tone with all that it could have been played with.
struct ExplainedTone {
  TonePlace place;
  std::vector<ExplainedCandidate> candidates;
  std::optional<std::size_t> chosen;  ///< index into candidates; none for a gap
  std::string reason;                 ///< one sentence without a full stop
};

/// `places` and `tones` go side by side.
std::vector<ExplainedTone> explain(const std::vector<TimedTone>& places,
                                   const std::vector<MelodyTone>& tones,
                                   const std::vector<Fingerwork>& flutes,
                                   const FingeredMelody& melody);

}  // namespace yubifu::fingering
