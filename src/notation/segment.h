// What song text is counted by.
#pragma once

#include <cstddef>

namespace yubifu::notation {

/// Where the notes of one bar in one line of music begin.
struct Segment {
  std::size_t offset = 0;      ///< of its first word in the text, in bytes
  std::size_t first_note = 0;  ///< index into the score's notes
};

}  // namespace yubifu::notation
