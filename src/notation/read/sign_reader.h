// The meaning of one word: a sign with half hole and bend, a gap, a hold, a rest, or `%`; and of
// what is attached to it.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

#include "base/source_text.h"
#include "model/score.h"
#include "notation/read/parser.h"
#include "notation/read/reports.h"
#include "notation/rules.h"

namespace yubifu::notation {

/// The characters that are read as the one they look like: how many, and where the first one is.
using LookAlikes = std::map<char32_t, std::pair<std::size_t, base::SourceRange>>;
void count(LookAlikes& look_alikes, std::u32string_view found, base::SourceRange where);
/// Tells each kind once, with a note at its first place.
void report(const LookAlikes& look_alikes, Reports& reports);

/// A sign or gap, `・`, `-` or `%`.
enum class WordKind { note, rest, hold, same_bar };

/// A word, or what stands at the front of one.
struct ReadWord {
  WordKind kind = WordKind::note;
  model::Tone tone;  ///< fingering; of a gap also the spelling
  std::u32string look_alikes;
  std::size_t size = 0;  ///< bytes it takes
};

/// What a word means, or what is wrong with it; without a hint where nobody can tell what was
/// meant.
using WordMeaning = std::variant<ReadWord, Fault>;

/// Reads one word in any spelling: printed, ASCII, full-width, with accidentals. With
/// ZeroSign::tube, 0, 〇 and 零 are 筒.
WordMeaning read_word(std::string_view text, model::ZeroSign zero);

/// Reads the braces and `~` after a word of a kind into a note that has nothing else: marks, grace
/// notes, asked holes, slur. Reports and leaves out what the word may not have. `held` is the sign
/// that a hold holds, as it is written; empty where it is not known.
model::Note read_attached(const base::SourceText& source, const Word& word, WordKind kind,
                          model::ZeroSign zero, Reports& reports, LookAlikes& look_alikes,
                          std::string_view held = {});

}  // namespace yubifu::notation
