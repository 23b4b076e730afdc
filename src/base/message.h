// Every sentence shown to a user is made here, so that one place translates it.
#pragma once

#include <string>
#include <utility>

#include <fmt/core.h>

#include "base/translation.h"

namespace yubifu::base {

/// Formats a user-facing sentence in the language of the process. The English text is checked at
/// compile time; the translations are checked by tests/translations.
template <typename... Args>
std::string message(fmt::format_string<Args...> text, Args&&... args) {
  return fmt::vformat(translated(fmt::string_view(text).data()), fmt::make_format_args(args...));
}

}  // namespace yubifu::base
