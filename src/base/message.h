// Every sentence shown to a user is made here, in the language of the process (gettext).
#pragma once

#include <string>
#include <string_view>

#include <fmt/core.h>

namespace yubifu::base {

/// Speaks the language of a catalogue from now on in the whole process. `catalogue` is a file in
/// gettext's binary form (GNU gettext manual, "The Format of GNU MO Files"), in the byte order of
/// this machine, which must outlive every message; an empty one is English. Only messages change,
/// never how numbers are read or written. To be called before any thread starts.
void speak(std::string_view catalogue);

/// The catalogue's text for an English one, or the English one. `text` ends with a zero byte, as
/// every literal does.
std::string_view translated(const char* text);
/// The same for a text of a table.
std::string translated(std::string_view text);

/// Marks a text of a table for the catalogue; `translated` is called where it is shown.
constexpr std::string_view catalogued(std::string_view text) {
  return text;
}

/// Formats a user-facing sentence in the language of the process. The English text is checked at
/// compile time; the translations are checked by tests/translations.
template <typename... Args>
std::string message(fmt::format_string<Args...> text, Args&&... args) {
  return fmt::vformat(translated(fmt::string_view(text).data()), fmt::make_format_args(args...));
}

}  // namespace yubifu::base
