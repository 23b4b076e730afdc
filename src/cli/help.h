// Help, made from the tables of verbs, options and formats.
#pragma once

#include <string>
#include <string_view>

#include "cli/verbs.h"

namespace yubifu::cli {

/// `text` in lines as wide as help is, which begin `indent` columns from the left; the first of
/// them stands there already. Ends with a line end.
std::string wrapped(std::string_view text, int indent);

/// The overview that `yubifu help` prints.
std::string general_help();

/// What `yubifu help VERB` prints.
std::string verb_help(const Verb& verb);

}  // namespace yubifu::cli
