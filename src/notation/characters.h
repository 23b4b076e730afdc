// Characters that are read as others, the classes the lexer asks for, and braces taken apart.
#pragma once

#include <string>
#include <string_view>

namespace yubifu::notation {

/// The ASCII form of a full-width letter, digit or punctuation mark, the ordinary form of
/// half-width katakana, the space for U+3000; any other character as it is (Unicode, block
/// Halfwidth and Fullwidth Forms).
char32_t folded(char32_t value);

/// A whole text so; a half-width kana and the voiced sound mark after it become one character.
std::string folded(std::string_view text);

/// White space between words: Unicode's, and the zero-width space and no-break space that come
/// along when text is copied.
bool is_space(char32_t value);

/// A digit of ASCII.
inline bool is_digit(char32_t value) {
  return value >= '0' && value <= '9';
}

/// Every dash that is read as a hold where it stands alone: hyphens, dashes, minus signs, the
/// long vowel mark, box-drawing lines.
bool is_dash(char32_t value);

/// Every dot that is read as a rest where it stands alone, or is told from U+0307 after a digit.
bool is_dot(char32_t value);

/// `text` without the white space at both ends.
std::string_view trimmed(std::string_view text);

/// What stands before the first white space of `text`.
std::string_view first_word(std::string_view text);

/// A piece of the user's text in a message: in back quotes, control characters by their code
/// point, at most 32 characters.
std::string shown(std::string_view text);

struct Brace {
  std::string name;        ///< folded
  std::string_view value;  ///< as written, without white space around it; may be empty
};

/// `text` begins and ends with a brace, full-width ones included.
Brace take_apart(std::string_view text);

}  // namespace yubifu::notation
