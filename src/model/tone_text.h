// A tone as text: its fingering, or the pitch of a gap.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "model/note.h"

namespace yubifu::model {

/// What stands before the pitch of a gap.
inline constexpr std::string_view kGapSign = "?";

/// A fingering as printed (三メ↓20), a gap as its spelling and bend (?F#4↓20); `?` alone for a gap
/// without spelling, nothing for a tone not yet fingered.
std::string printed(const Tone& tone);

/// The same in ASCII: r3mv20, ?F#4v20.
std::string ascii(const Tone& tone);

/// Reads exactly the printed form of a gap with its spelling; nothing for another text. The pitch
/// may lie outside of what a score holds.
std::optional<Tone> parse_gap(std::string_view text);

}  // namespace yubifu::model
