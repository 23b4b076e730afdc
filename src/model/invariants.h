// What must hold of every score, whoever made it. Every reader test runs this check.
#pragma once

#include "model/score.h"

namespace yubifu::model {

/// What an invariant is about.
enum class ScorePart { score, header, flute, measure, note, rest, direction };

/// What does not hold, and where, for readers that can show a place.
struct BrokenInvariant {
  ScorePart part = ScorePart::score;
  std::size_t index = 0;  ///< into the score's list of such parts
  std::string sentence;
};

/// One for each broken invariant, none for a sound score:
/// - measures have a positive length (zero only in free time, for a bar without words), a beat
///   that divides their meter, `irregular` exactly where they are longer than their meter or
///   shorter and not `may_be_short`, `times` of 2 and more and other than 2 only at the end of a
///   repeat, ending numbers that rise from 1;
/// - the header's meter and beat are those of the first measure, and no tempo, key or flute
///   direction stands at the very start;
/// - indexes are in range; flutes, notes, rests and directions are in order;
/// - notes start inside their measure, last a positive time, neither overlap nor reach past the
///   end of the score; rests are written down only with marks, and not under a note;
/// - each tone is fingered or pitched, gaps are spelled, bends are within their limits, hole
///   patterns have holes; marks are sorted and unique; a slur or slide has a next note;
/// - verses are named "1", "2" … and "shoga", in this order, each in use; a note has at most one
///   syllable a verse, in that order; a carried syllable has no text and is `single`;
/// - flute, section, segno and coda stand at the start of a measure, fine to until_cue at its end,
///   a change of beat strictly inside.
std::vector<BrokenInvariant> broken_invariants(const Score& score);

}  // namespace yubifu::model
