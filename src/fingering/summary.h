// A resolved score in figures and in words, for whoever prints them.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "fingering/resolve.h"

namespace yubifu::fingering {

/// Grace notes count as notes. One note may be half-holed, bent and in the third register.
struct Summary {
  std::string flute_title;  ///< of the flute at the start
  int octave_shift = 0;
  std::size_t notes = 0;
  std::size_t half_holed = 0;  ///< spelled with メ or カ
  std::size_t bent = 0;        ///< gaps aside
  std::size_t third_register = 0;
  std::size_t gaps = 0;
  std::size_t loud = 0;  ///< flute::is_loud(): where there are any, hearing_caution() is due

  friend bool operator==(const Summary&, const Summary&) = default;
};

/// Of the notes in the wanted measures alone, and of the flute that the first of them is played on.
Summary summarize(
    const Resolved& resolved, const std::function<bool(const model::Measure&)>& is_wanted =
                                  [](const model::Measure&) { return true; });

/// Lines that tell each tone's candidates, their effort and why one won, in order. Empty unless
/// the score was resolved with Explain::every_tone.
std::vector<std::string> explanation(const Resolved& resolved);

}  // namespace yubifu::fingering
