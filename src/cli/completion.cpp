#include "cli/completion.h"

#include "cli/completion_scripts.h"

namespace yubifu::cli {

std::string completion(Shell shell) {
  switch (shell) {
    case Shell::bash:
      return bash_completion();
    case Shell::zsh:
      return zsh_completion();
    case Shell::fish:
      return fish_completion();
  }
  return {};
}

}  // namespace yubifu::cli
