// What is attached to one word, and the look-alikes in a text.
#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "model/score.h"
#include "notation/reports.h"
#include "notation/sign_reader.h"
#include "notation/tree.h"

namespace yubifu::notation {

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
  std::array<Kind, 4> kinds_;
};

/// What a word is, for the rules about what may be attached to it.
enum class WordKind { note, rest, hold, same_bar };

/// What is attached to a sign, hold or rest.
struct Attached {
  std::vector<model::Mark> marks;  ///< in order, each once
  std::vector<model::Tone> grace_before;
  std::vector<model::Tone> grace_after;
  std::optional<model::HolePattern> holes;
  bool slur = false;
};

/// Reads the braces and `~` after a word; reports and leaves out what it may not have.
Attached read_attached(const base::SourceText& source, const Word& word, WordKind kind,
                       model::ZeroSign zero, Reports& reports, LookAlikes& look_alikes);

}  // namespace yubifu::notation
