// A tree to a score: time, notes, rests, directions and form.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"
#include "notation/bar_facts.h"
#include "notation/header.h"
#include "notation/reader.h"
#include "notation/segment.h"
#include "notation/tree.h"

namespace yubifu::notation {

/// More notes than this, grace notes included, are not read.
inline constexpr std::size_t kMostNotes = 2'000'000;

struct BuiltScore {
  model::Score score;           ///< without song text, measure numbers and irregular flags
  std::vector<BarFacts> facts;  ///< one a measure
  std::vector<Segment> segments;
  std::vector<base::SourceRange> broken;  ///< words that could not be read, in order
  base::Diagnostics diagnostics;
};

/// Reads every word of the tree. A bar that cannot be read whole still becomes a measure.
BuiltScore build_score(const base::SourceText& source, const Tree& tree,
                       const HeaderReading& header, const SignsOf& signs_of);

}  // namespace yubifu::notation
