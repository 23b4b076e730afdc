// Text to tokens: pieces with their places, comments and line ends included.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "base/source_text.h"
#include "notation/read/reports.h"

namespace yubifu::notation {

/// The kinds of pieces that a text is cut into.
enum class TokenKind {
  header,      ///< a header line, wherever it stands
  word,        ///< a run of characters: sign, hold, rest, `%`, or something unknown
  slur,        ///< `~`
  brace,       ///< `{…}` with both braces
  open,        ///< `(`
  close,       ///< `)` with the length directly after it: `):2`, `):1/2`
  bar,         ///< one bar sign, with the count of `:|x3`
  broken,      ///< stands for what the lexer has already reported
  comment,     ///< from `#` to the end of the line
  song,        ///< a song line from `>` on
  line_end,    ///< the end of a line that is not blank
  blank_line,  ///< a line of white space
};

/// One piece; white space between them is left out.
struct Token {
  TokenKind kind = TokenKind::word;
  bool spaced = true;  ///< white space or the start of the line stands before it
  base::SourceRange range;
};

/// The text of a token, or of what was made of tokens.
inline std::string_view text_of(const base::SourceText& source, base::SourceRange range) {
  return base::text_of(source.text(), range);
}

/// Cuts a text in UTF-8 into tokens. Reports braces that do not close, header lines without a
/// space after the colon, and texts beyond the limits of rules.h.
std::vector<Token> lex(const base::SourceText& source, Reports& reports);

/// The length of the bar sign at the front of `text`, with the count of `:|x3`; 0 for none. Of
/// `||:` it is the first bar alone, so that a repeat start follows.
std::size_t bar_sign_length(std::string_view text);

/// The parts of a header line; nothing for a line that is none.
struct HeaderParts {
  std::string_view key;
  std::string_view value;  ///< without white space around it
  bool spaced = true;      ///< white space or the end of the line follows the colon
};
std::optional<HeaderParts> header_parts(std::string_view line);

/// The parts of a line that begins with a known key, white space and a value: a header line whose
/// colon was forgotten.
std::optional<HeaderParts> header_parts_without_colon(std::string_view line);

}  // namespace yubifu::notation
