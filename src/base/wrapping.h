// Breaking a text into lines, where its script allows it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace yubifu::base {

/// The lines of `text`, none wider than `most` as far as it can be broken: at spaces, and between
/// characters of which one is wide (kanji, kana), but not before closing marks, small kana and the
/// like, nor behind opening brackets (JIS X 4051). A word that is wider than a line is cut.
/// `width` gives the width of a character, for example display_width.
std::vector<std::string> wrapped(std::string_view text, double most, double (*width)(char32_t));

/// The same in columns of a terminal.
std::vector<std::string> wrapped(std::string_view text, int columns);

}  // namespace yubifu::base
