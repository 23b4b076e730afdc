// The script of each shell, one source file each.
#pragma once

#include <string>

namespace yubifu::cli {

/// Each gives a whole script for the file from which its shell reads it.
std::string bash_completion();
std::string zsh_completion();
std::string fish_completion();

}  // namespace yubifu::cli
