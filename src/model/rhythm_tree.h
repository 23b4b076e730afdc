// The canonical rhythm of a bar: how a writer divides it into words and groups. The same tree
// gives the fingering text its brackets, the staff its tuplets and the page its groups.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/message.h"
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

/// One word of the notation: a sign, hold or rest, or a group of words in brackets.
struct RhythmWord {
  Rational begin;  ///< from the start of the bar, in quarter notes
  Rational end;
  std::size_t span = 0;  ///< which BarSpan it belongs to (leaf)
  /// The note or rest starts here; otherwise this word goes on with it: `-` for a note, also one
  /// held over the bar line, another `・` for a rest (leaf).
  bool starts = false;
  std::vector<RhythmWord> parts;  ///< words of a group; empty for a leaf
  int shares = 0;                 ///< k, the equal parts of a group; 1 for `(5):1/2`, 0 for a leaf
  int words = 1;          ///< N of `(…):N`: how many words (or shares of the group around it)
  Rational fraction = 1;  ///< below 1 for `(…):n/d`, the incomplete word of a bar

  bool is_group() const { return shares != 0; }
};

/// How a group of words is marked as shorter than whole beats.
struct GroupDivision {
  int halvings = 0;           ///< one bar for each: 1 for halves of a beat, 2 for quarters …
  std::optional<int> uneven;  ///< what must be told of a division that halvings do not say: 3, 5 …
};
GroupDivision division_of(const RhythmWord& group);

/// The finest common denominator of the starts inside one word, and of an incomplete word.
inline constexpr std::int64_t kFinestDivision = 10'000;

/// Thrown for a bar with a word that needs a finer division.
class DivisionTooFine : public std::runtime_error {
 public:
  DivisionTooFine() : std::runtime_error(base::message("the rhythm is too fine to be written")) {}
};

/// The words of one bar in order: the least by (number of signs, holds and rests; number of `:N`;
/// number of groups; then the sequence of N and k in reading order), see the grammar. Each stretch
/// of the bar with a beat of its own is divided for itself. Words of several parts are left out
/// where their common denominator passes the limit, and where a search for them would take minutes.
/// Throws DivisionTooFine, and TimeOverflow also for a bar of more than 500,000 words.
std::vector<RhythmWord> rhythm_words(const Score& score, std::size_t measure,
                                     const BarContent& content);

}  // namespace yubifu::model
