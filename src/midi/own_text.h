// What files of this program say of themselves, so that they can be read back.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/word_table.h"
#include "midi/smf/scan.h"
#include "model/header.h"
#include "model/score.h"

namespace yubifu::midi {

/// Begins the text events in which this program keeps what MIDI has no event for.
inline constexpr std::string_view kOwnPrefix = "yubifu.";

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
inline constexpr std::string_view kFluteText = model::FluteChange::kWord;

/// The header fields that have no event of their own, each by its word.
inline constexpr std::array kKeptFields{
    model::HeaderKey::subtitle, model::HeaderKey::composer, model::HeaderKey::lyricist,
    model::HeaderKey::source,   model::HeaderKey::flute,    model::HeaderKey::tuning,
    model::HeaderKey::beat,     model::HeaderKey::staff,    model::HeaderKey::zero};

/// What the lyric events say: the fingering of each note; the song text, the next verse each time
/// a note is played again; the sung syllables of the flute part; or nothing that is known.
enum class Lyrics { fingering, song, shoga, none };

/// The words by which a file says so.
inline constexpr auto kLyricWords = base::word_table<Lyrics>(
    {{Lyrics::fingering, "fingering"}, {Lyrics::song, "song"}, {Lyrics::shoga, "shoga"}});
/// Where free time begins.
inline constexpr OwnText kFreeTime{kMeterText, "free"};

/// What a text event of this program says, in the bytes of the event; nothing for any other event.
std::optional<OwnText> own_text(const MetaEvent& meta);

/// How far the header's A4 is from 440 Hz, which players of MIDI have, in cents: 7.85 for 442. The
/// writer bends every note by it; the reader takes it off in files that name a tuning as ours do.
inline double tuning_cents(const model::Header& header) {
  return header.tuning_hz ? model::cents_between(model::kConcertPitchHz, *header.tuning_hz) : 0;
}

/// A syllable as a lyric event says it: a hyphen behind one that does not end its word. A text
/// that ends with a hyphen of its own has a space behind it.
std::string to_lyric(const model::Syllable& syllable);

/// The syllables that such lyrics were, to the letter; none where a lyric is empty.
std::vector<std::optional<model::Syllable>> from_lyrics(const std::vector<std::string>& lyrics);

}  // namespace yubifu::midi
