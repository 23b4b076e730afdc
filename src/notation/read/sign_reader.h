// The meaning of one word: a sign with half hole and bend, a gap, a hold, a rest, or `%`.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>
#include <variant>
#include <vector>

#include "base/source_text.h"
#include "model/score.h"
#include "notation/read/reports.h"
#include "notation/rules.h"

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

/// A sign or gap, `・`, `-` or `%`.
enum class WordKind { note, rest, hold, same_bar };

/// A word, or what stands at the front of one.
struct ReadWord {
  WordKind kind = WordKind::note;
  model::Tone tone;  ///< fingering; of a gap also the spelling
  std::vector<LookAlike> look_alikes;
  std::size_t size = 0;  ///< bytes it takes
};

/// What a word means, or what is wrong with it; without a hint where nobody can tell what was
/// meant.
using WordMeaning = std::variant<ReadWord, Fault>;

/// Reads one word in any spelling: printed, ASCII, full-width, with accidentals. With
/// ZeroSign::tube, 0, 〇 and 零 are 筒.
WordMeaning read_word(std::string_view text, model::ZeroSign zero);

}  // namespace yubifu::notation
