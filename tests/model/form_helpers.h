// What the tests of the played order and of the unfolded score share.
#pragma once

#include "model/score.h"

namespace yubifu::model {

/// A cue at its place in a measure of 4/4.
inline Direction cue(std::size_t measure, Cue value) {
  const bool at_start = value == Cue::segno || value == Cue::coda;
  return {measure, at_start ? 0 : 4, value, {}};
}

}  // namespace yubifu::model
