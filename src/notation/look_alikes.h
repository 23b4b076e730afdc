// Characters that look like another one, and those that a text has.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "base/source_text.h"
#include "notation/reports.h"

namespace yubifu::notation {

/// Characters that are read as the one they look like, with a note.
enum class LookAlike { ni, mi, chikara, x, me };

/// Counts the look-alikes, so that each kind is told once, at its first place.
class LookAlikes {
 public:
  void count(const std::vector<LookAlike>& found, base::SourceRange where);
  void report(Reports& reports) const;

 private:
  struct Kind {
    std::size_t count = 0;
    base::SourceRange first;
  };
  std::array<Kind, 5> kinds_;
};

}  // namespace yubifu::notation
