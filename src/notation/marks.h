// The marks in braces directly after a sign.
#pragma once

#include <string_view>
#include <variant>
#include <vector>

#include "model/score.h"
#include "notation/brace.h"
#include "notation/fault.h"
#include "notation/look_alikes.h"

namespace yubifu::notation {

/// A pattern names no more holes.
inline constexpr std::size_t kMostHoles = 24;

/// {pre 六 七} or {post 六}
struct GraceNotes {
  enum class Side { before, after };
  Side side = Side::before;
  std::vector<model::Tone> tones;
  std::vector<LookAlike> look_alikes;
};

using MarkMeaning = std::variant<model::Mark, GraceNotes, model::HolePattern, Fault>;

/// Reads a brace that is attached to a sign.
MarkMeaning read_mark(const Brace& brace, model::ZeroSign zero);

/// True for a word that opens a mark, aliases included.
bool names_mark(std::string_view name);

/// True for the marks that a rest takes.
bool is_rest_mark(const MarkMeaning& mark);

}  // namespace yubifu::notation
