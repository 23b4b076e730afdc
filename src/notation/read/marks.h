// What is attached to one word: marks in braces, and `~`.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "model/score.h"
#include "notation/read/parser.h"
#include "notation/read/reports.h"
#include "notation/read/sign_reader.h"

namespace yubifu::notation {

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

/// Reads the braces and `~` after a word; reports and leaves out what it may not have. `held` is
/// the sign that a hold holds, as it is written; empty where it is not known.
Attached read_attached(const base::SourceText& source, const Word& word, WordKind kind,
                       model::ZeroSign zero, Reports& reports, LookAlikes& look_alikes,
                       std::string_view held = {});

}  // namespace yubifu::notation
