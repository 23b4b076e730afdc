// Texts of a MIDI file, whose encoding no file names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "midi/reader.h"

namespace yubifu::midi {

/// One encoding for all texts of a file: a single text is too short to tell.
class TextDecoder {
 public:
  /// Decides by all the texts of the file, unless `asked` does.
  TextDecoder(Charset asked, const std::vector<std::string_view>& texts);

  /// The text in UTF-8; bytes that the encoding does not have become U+FFFD.
  std::string decode(std::string_view bytes) const;

  /// A warning where the encoding is a last resort or some text is not in the one asked for.
  base::Diagnostics diagnostics() const;

 private:
  Charset charset_;
  std::string doubtful_;  ///< the first text that does not fit, decoded all the same
};

/// The text as one line: control characters become spaces, and none stand at its ends.
std::string one_line_of(std::string_view text);

}  // namespace yubifu::midi
