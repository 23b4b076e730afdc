// What stands around the words of the fingering text: quotes, bar signs, song lines. Shared by
// reader and writer.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/score.h"

namespace yubifu::notation {

// --- values in quotes ------------------------------------------------------------------------

/// In double quotes; `"` and `\` inside take a backslash.
std::string quoted(std::string_view text);

/// The text of a value that is all one quoted string, escapes undone; nothing for another value.
std::optional<std::string> unquoted(std::string_view value);

/// A value that needs no quotes ({dyn mf}, {flute 7}) stands bare, another one in quotes. Bare
/// values are letters, digits and `-+./_`.
std::string bare_or_quoted(std::string_view text);

// --- bar signs -------------------------------------------------------------------------------

/// What stands between two bars. Signs with no word between them are one boundary: of `|`, `||`
/// and `|=` the strongest counts, repeat signs are added to it (`:| |:`, `:| ||`).
struct BarSign {
  model::BarStyle style = model::BarStyle::regular;
  bool repeat_end = false;
  int times = 2;  ///< `:|x3`; with repeat_end
  bool repeat_start = false;

  friend bool operator==(const BarSign&, const BarSign&) = default;
};

/// One printed sign: "|", "||", "|=", "|:", ":|" (the count `x3` is the lexer's).
struct BarSignSpelling {
  std::string_view text;
  BarSign sign;
};

inline constexpr std::string_view kRepeatStart = "|:";

/// Longest first, so that the first that fits is the one meant.
const std::vector<BarSignSpelling>& bar_signs();

/// What ends a bar, without the repeat start after it: "|", "||", ":|x3", ":| |=".
std::string bar_end_text(const BarSign& sign);

// --- song text -------------------------------------------------------------------------------

inline constexpr std::string_view kSongLine = ">";
inline constexpr std::string_view kSkipNote = "/";
inline constexpr std::string_view kCarryOn = "~";
inline constexpr std::string_view kJoin = "-";
inline constexpr std::string_view kSongBar = "|";

/// ">" for verse "1", ">2", ">shoga".
std::string song_label(std::string_view verse);

/// The verse of a label such as ">2"; nothing for another word. ">1" is read as ">".
std::optional<std::string> verse_of_label(std::string_view label);

/// A syllable as one word of a song line: a backslash before white space, `|`, `\`, before `~` or
/// `/` at its start and before a `-` at its end.
std::string song_word(std::string_view syllable);

}  // namespace yubifu::notation
