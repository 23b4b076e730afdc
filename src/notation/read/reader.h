// Fingering text to a score.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::notation {

/// Reads fingering text, version 1 (schemas/notation.ebnf). Tones have their fingering, gaps their
/// spelling; flutes, pitches and patterns are left to fingering/. After a fault reading goes on at
/// the next word or bar, so one run tells all; the findings are in the order of the text. There is
/// no value for text that is not UTF-8 and for one without music.
///
/// `signs_of` tells the signs of a flute for a message, parted by spaces, or nothing where it is
/// not known; it is asked only where a word is no sign.
using SignsOf = std::function<std::string(const model::FluteName& flute)>;
base::Outcome<model::Score> read_notation(const base::SourceText& source,
                                          const SignsOf& signs_of = {});

/// The bytes of a file as UTF-8: UTF-16 with a byte-order mark and Shift_JIS are converted, with a
/// note. Of other bytes the text ends, with U+FFFD, where they stop being UTF-8, and the error
/// stands there.
base::Outcome<std::string> notation_text(std::string bytes);

/// True for a text that can hardly be anything else: a header line with a known key stands in it,
/// or a line with a bar sign and more signs than other words.
bool looks_like_notation(std::string_view text);

}  // namespace yubifu::notation
