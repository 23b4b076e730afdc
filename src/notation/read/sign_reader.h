// The meaning of one word: a sign with half hole and bend, a gap, a hold, a rest, or `%`.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
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

/// A sign or a gap.
struct SignWord {
  model::Tone tone;  ///< fingering; of a gap also the spelling
  std::vector<LookAlike> look_alikes;
};
/// `-`
struct HoldWord {};
/// `・`
struct RestWord {};
/// `%`
struct SameBarWord {};

/// What a word means, or what is wrong with it.
using WordMeaning = std::variant<SignWord, HoldWord, RestWord, SameBarWord, Fault>;

/// Reads one word in any spelling: printed, ASCII, full-width, with accidentals. With
/// ZeroSign::tube, 0, 〇 and 零 are 筒.
WordMeaning read_word(std::string_view text, model::ZeroSign zero);

/// A sign or hold or rest at the front of a word, in its folded form.
struct Unit {
  enum class Kind { sign, hold, rest };
  Kind kind = Kind::sign;
  SignWord sign;
  std::size_t size = 0;  ///< bytes it takes
};

/// The longest unit at the front of a folded word; a fault for one that is begun and not right;
/// nothing when no unit begins there.
std::optional<std::variant<Unit, Fault>> first_unit(std::string_view folded_word,
                                                    model::ZeroSign zero);

/// What to say of a folded word that begins with a unit and does not end with it.
Fault fault_after(std::string_view folded_word, const Unit& unit, model::ZeroSign zero);

/// What to say of a folded word that begins with no unit; without a hint where nobody can tell what
/// was meant.
Fault unknown_word(std::string_view folded_word, model::ZeroSign zero);

/// The half hole at the front of a folded text, in any spelling.
std::optional<model::HalfHole> half_hole_at(std::string_view text);

/// True when a folded text begins with an arrow of a bend in either alphabet.
bool bend_begins(std::string_view text);

}  // namespace yubifu::notation
