// The manual page, made from the tables of verbs, options and formats.
#pragma once

#include <string>

namespace yubifu::cli {

/// yubifu(1) for the macros of man(7).
std::string manual_page();

}  // namespace yubifu::cli
