// The structure of a Standard MIDI File, checked and repaired before the MIDI library sees it: that
// library aborts on some damaged files and drops parts of others in silence.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace yubifu::midi {

/// More than this is refused: half a million notes are ten hours of music.
inline constexpr std::size_t kMostEvents = 1'000'000;
/// More tracks than this are refused.
inline constexpr std::size_t kMostTracks = 4'096;
/// A time past this many quarter notes is damage, not music: at 120 a minute, 55 hours.
inline constexpr std::int64_t kMostQuarters = 400'000;
/// Tempos of a MIDI file are microseconds for a quarter note.
inline constexpr double kMicrosecondsPerMinute = 60e6;

/// What the ticks of a file are parts of: a quarter note, or a frame of film or video.
struct Division {
  int ticks = 480;
  std::optional<int> frames_per_second;  ///< 24, 25, 29 (29.97, drop frame) or 30
};

/// A meta event, End of Track excepted. The text belongs to the bytes that were scanned.
struct MetaEvent {
  std::int64_t tick = 0;
  std::uint16_t track = 0;
  std::uint8_t type = 0;
  std::string_view data;
};

/// A file whose bytes are in order, of format 0 or 1.
struct ScannedFile {
  Division division;
  std::vector<std::int64_t> track_ends;  ///< one a track: where it ends or was cut
  /// In order of tracks, then of time. Tempos have three bytes and are not zero; meters and keys
  /// are whole and of a known kind.
  std::vector<MetaEvent> metas;
  /// A valid file of format 1 with the channel messages alone, each with its status byte: tracks as
  /// in `track_ends`, and for a division of frames a made-up number of ticks a quarter note.
  std::string clean;
};

/// Checks the header and every chunk and event. Where players would still play the file it is
/// repaired, and each kind of repair is told once, with the offset of the first place.
base::Outcome<ScannedFile> scan(std::string_view bytes);

}  // namespace yubifu::midi
