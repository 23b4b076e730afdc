// The score cut at its bar lines: what a writer prints bar after bar.
#pragma once

#include <optional>
#include <vector>

#include "model/score.h"

namespace yubifu::model {

/// A stretch of one bar that one note or one rest fills. Times count from the start of the bar.
struct BarSpan {
  Rational begin;
  Rational end;
  std::optional<std::size_t> note;  ///< index into Score::notes; none for a rest
  std::optional<std::size_t> rest;  ///< index into Score::rests for a rest with marks
  bool held_in = false;             ///< the note began in an earlier bar
  bool held_out = false;            ///< the note goes on in the next bar
};

/// The spans of one bar: contiguous, from 0 to the measure's length, none of no length. A rest is
/// parted at marked rests and at directions that stand inside it, nowhere else.
struct BarContent {
  std::vector<BarSpan> spans;
  std::vector<std::size_t> directions;  ///< indexes into Score::directions, in order
};

/// One entry a measure. The score must be free of broken invariants. Throws TimeOverflow.
std::vector<BarContent> bar_contents(const Score& score);

}  // namespace yubifu::model
