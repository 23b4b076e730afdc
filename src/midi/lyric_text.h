// The lyric events of a performance.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "midi/writer.h"
#include "model/score.h"

namespace yubifu::midi {

/// A syllable as a lyric event says it: a hyphen behind one that does not end its word. A text
/// that ends with a hyphen of its own has a space behind it.
std::string to_lyric(const model::Syllable& syllable);

/// The syllables that such lyrics were, to the letter; none where a lyric is empty.
std::vector<std::optional<model::Syllable>> from_lyrics(const std::vector<std::string>& lyrics);

/// What each note of a played-out score says. Notes must be asked for in the order they sound.
class LyricText {
 public:
  /// `written` is the score that is played out.
  LyricText(const model::Score& written, Lyrics what)
      : what_(what), played_(written.notes.size(), 0) {}

  /// The lyric of a note, empty for none. `source` is the index of the written note; each further
  /// time it is played it says its next verse, if it has one, otherwise its last.
  std::string of(const model::Note& note, std::size_t source);

 private:
  Lyrics what_;
  std::vector<int> played_;  ///< how often each written note has been asked for
};

}  // namespace yubifu::midi
