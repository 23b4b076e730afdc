// Help, made from the tables of verbs, options and formats.
#pragma once

#include <string>

#include "cli/verbs.h"

namespace yubifu::cli {

/// The overview that `yubifu help` prints.
std::string general_help();

/// What `yubifu help VERB` prints.
std::string verb_help(const Verb& verb);

}  // namespace yubifu::cli
