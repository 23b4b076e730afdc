// The last line about a conversion: what came out of what, for which flute, in figures.
#pragma once

#include <optional>
#include <string>

#include "fingering/resolve.h"
#include "midi/write/writer.h"

namespace yubifu::cli {

/// "a.musicxml → a.yubifu: flute 7, one octave up, 24 notes (2 half-holed, 1 gap)", without a
/// line end, followed by the hearing caution where it is due; of the bars that are practised:
/// "a.yubifu → a.mid: bars 5-8, flute 7, 12 notes (1 bent)".
std::string summary_line(const std::string& input, const std::string& output,
                         const fingering::Resolved& resolved,
                         const std::optional<midi::BarRange>& bars = std::nullopt);

}  // namespace yubifu::cli
