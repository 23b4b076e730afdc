// Text events in which this program keeps what MIDI has no event for.
#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "midi/scan.h"
#include "model/header.h"

namespace yubifu::midi {

/// "yubifu.flute: 6" is the key "flute" and the value "6".
struct OwnText {
  std::string_view key;
  std::string_view value;

  friend bool operator==(const OwnText&, const OwnText&) = default;
};

/// Keys of texts that say something of the file itself: its ticks, its lyrics, free time.
inline constexpr std::string_view kTicksText = "ticks";
inline constexpr std::string_view kLyricsText = "lyrics";
inline constexpr std::string_view kMeterText = "meter";
/// And a header field that may also change in the middle.
inline constexpr std::string_view kFluteText = "flute";

/// The header fields that have no event of their own, each by its word.
inline constexpr std::array kKeptFields{
    model::HeaderKey::subtitle, model::HeaderKey::composer, model::HeaderKey::lyricist,
    model::HeaderKey::source,   model::HeaderKey::flute,    model::HeaderKey::tuning,
    model::HeaderKey::beat,     model::HeaderKey::staff,    model::HeaderKey::zero};

/// What the lyrics of a file are, in its own words.
inline constexpr OwnText kLyricsAreFingering{kLyricsText, "fingering"};
inline constexpr OwnText kLyricsAreSong{kLyricsText, "song"};
inline constexpr OwnText kLyricsAreShoga{kLyricsText, "shoga"};
/// Where free time begins.
inline constexpr OwnText kFreeTime{kMeterText, "free"};

/// What a text event of this program says, in the bytes of the event; nothing for any other event.
std::optional<OwnText> own_text(const MetaEvent& meta);

/// True when one of the events says so of its file.
bool has_own_text(const std::vector<MetaEvent>& metas, const OwnText& wanted);

}  // namespace yubifu::midi
