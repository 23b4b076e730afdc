// Text to tokens.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "notation/token.h"

namespace yubifu::notation {

/// More tokens than this are not read.
inline constexpr std::size_t kMostTokens = 5'000'000;

/// No word or brace is longer, in bytes.
inline constexpr std::size_t kLongestToken = 4'096;

/// Cuts a text in UTF-8 into tokens. Reports braces that do not close, header lines without a
/// space after the colon, and the limits above.
base::Outcome<std::vector<Token>> lex(const base::SourceText& source);

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
