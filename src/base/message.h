// Every sentence shown to a user is made here, so that one place can translate it.
#pragma once

#include <string>
#include <utility>

#include <fmt/format.h>

namespace yubifu::base {

/// Formats a user-facing sentence; the format string is checked at compile time.
template <typename... Args>
std::string message(fmt::format_string<Args...> text, Args&&... args) {
  return fmt::format(text, std::forward<Args>(args)...);
}

}  // namespace yubifu::base
