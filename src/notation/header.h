// The header lines of the fingering text.
#pragma once

#include <set>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"
#include "notation/spelling.h"
#include "notation/tree.h"

namespace yubifu::notation {

/// What the header lines say.
struct HeaderReading {
  model::Header header;
  model::Rational beat = 1;   ///< what one word lasts at the start
  bool time_known = true;     ///< false after a meter or beat that could not be read
  std::set<HeaderKey> given;  ///< the keys that stand in the text
  base::Diagnostics diagnostics;
};

/// Reads the lines; comments are not among them. A bad value is reported and left out.
HeaderReading read_header(const base::SourceText& source, const std::vector<HeaderLine>& lines);

}  // namespace yubifu::notation
