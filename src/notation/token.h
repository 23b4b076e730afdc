// What the lexer makes of the text: pieces with their places, comments and line ends included.
#pragma once

#include <vector>

#include "base/source_text.h"

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

}  // namespace yubifu::notation
