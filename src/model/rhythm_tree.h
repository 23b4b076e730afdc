// The canonical rhythm of a bar: how a writer divides it into words and groups. The same tree
// gives the fingering text its brackets, the staff its tuplets and the page its groups.
#pragma once

#include <cstddef>
#include <vector>

#include "model/bar_content.h"
#include "model/score.h"

namespace yubifu::model {

/// One word of the notation: a sign, hold or rest, or a group of words in brackets.
struct RhythmWord {
  Rational begin;  ///< from the start of the bar, in quarter notes
  Rational end;
  std::size_t span = 0;           ///< which BarSpan it belongs to (leaf)
  bool starts = false;            ///< the span starts here; otherwise this word holds it (leaf)
  std::vector<RhythmWord> parts;  ///< words of a group; empty for a leaf
  int shares = 0;                 ///< equal parts that the group is divided into; 0 for a leaf
  int words = 1;          ///< N of `(…):N`: how many words (or shares of the group around it)
  Rational fraction = 1;  ///< below 1 for `(…):n/d`, the incomplete word of a bar

  bool is_group() const { return shares != 0; }
};

/// The finest common denominator that one bar may have, per beat.
inline constexpr std::int64_t kFinestDivision = 10'000;

/// Thrown for a bar whose starts need a finer division.
class DivisionTooFine : public std::runtime_error {
 public:
  DivisionTooFine() : std::runtime_error("the rhythm is too fine to be written") {}
};

/// The words of one bar in order: the least by (number of words, number of `:N`, number of
/// groups, then the sequence of N and k in reading order), see the grammar. Throws
/// DivisionTooFine and TimeOverflow.
std::vector<RhythmWord> rhythm_words(const Score& score, std::size_t measure,
                                     const BarContent& content);

}  // namespace yubifu::model
