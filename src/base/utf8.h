// UTF-8: walking code points, checking, width and line breaks.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace yubifu::base {

/// U+FEFF at the start of a text, which some programs write before UTF-8.
inline constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

/// One code point and the bytes it takes. An invalid byte gives U+FFFD with size 1.
struct CodePoint {
  char32_t value = 0;
  std::size_t size = 0;
};

/// The ordinary form of a full-width sign of ASCII (U+FF01 to U+FF5E); others as they are.
constexpr char32_t narrowed(char32_t value) {
  return value >= 0xFF01 && value <= 0xFF5E ? value - 0xFEE0 : value;
}

/// The code point at the start of `text`; {0, 0} for an empty text.
CodePoint first_code_point(std::string_view text);

/// All of them.
std::u32string code_points(std::string_view text);

/// The number of code points; each invalid byte counts as one.
std::size_t code_point_count(std::string_view text);

/// Adds a code point; surrogates and values past U+10FFFF are not checked for.
void append_utf8(std::string& out, char32_t value);

/// The offset of the first byte that is not valid UTF-8 (overlong forms, surrogates and values
/// past U+10FFFF are invalid); nothing when all is well.
std::optional<std::size_t> first_invalid_utf8(std::string_view text);

/// Unicode's classes: white space (U+3000 and line ends included), letters and digits of any
/// script (kana and kanji included), combining marks.
bool is_white_space(char32_t value);
bool is_letter_or_digit(char32_t value);
bool is_combining_mark(char32_t value);

/// `text` with its letters A to Z in lower case.
std::string lower_case(std::string_view text);

/// Columns on a terminal: 2 for East Asian wide and full-width characters, 0 for combining marks, 1
/// otherwise (Unicode Standard Annex 11).
int display_width(char32_t value);
int display_width(std::string_view text);

/// `text` padded with spaces on the right to `width` columns.
std::string padded(std::string_view text, int width);

/// The lines of `text`, none wider than `most` as far as it can be broken: at spaces, and between
/// characters of which one is wide (kanji, kana), but not before closing marks, small kana and the
/// like, nor behind opening brackets (JIS X 4051). A word that is wider than a line is cut.
/// `width` gives the width of a character, for example display_width.
std::vector<std::string> wrapped(std::string_view text, double most, double (*width)(char32_t));
/// The same in columns of a terminal.
std::vector<std::string> wrapped(std::string_view text, int columns);

}  // namespace yubifu::base
