// Scripts that complete command lines of yubifu in a shell, made from the tables of verbs and
// options.
#pragma once

#include <string>

namespace yubifu::cli {

enum class Shell { bash, zsh, fish };

/// The whole file that the shell loads.
std::string completion(Shell shell);

}  // namespace yubifu::cli
