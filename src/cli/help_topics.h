// The notation on one screen of help.
#pragma once

#include <string>
#include <string_view>

namespace yubifu::cli {

/// The word behind `yubifu help` that asks for it.
inline constexpr std::string_view kNotationTopic = "notation";

/// Signs, time, marks and song text, each in all the spellings that are read: printed, in ASCII and
/// the Japanese words. What each means in full stands in schemas/notation.ebnf.
std::string notation_help();

}  // namespace yubifu::cli
