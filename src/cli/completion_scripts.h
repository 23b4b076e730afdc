// The script of each shell, one source file each.
#pragma once

#include <string>

namespace yubifu::cli {

std::string bash_completion();
std::string zsh_completion();
std::string fish_completion();

}  // namespace yubifu::cli
