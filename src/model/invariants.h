// What must hold of every score, whoever made it. Every reader test runs this check.
#pragma once

#include <string>
#include <vector>

#include "model/score.h"

namespace yubifu::model {

/// One sentence for each broken invariant, none for a sound score: indexes in range; measures of
/// positive length (zero only for a bar without words in free time); onsets inside the measure;
/// positive durations; notes, rests and directions in order; notes that neither overlap nor reach
/// past the end, nor marked rests under a note; marks sorted and unique; each tone fingered or
/// pitched, gaps spelled; bends within limits; syllables of known verses, one a verse; a slur or
/// slide only with a next note; start- and end-of-bar directions at their places; no tempo, key
/// or flute direction at the very start (those are the header's).
std::vector<std::string> broken_invariants(const Score& score);

}  // namespace yubifu::model
