// Sentences in the user's language, through the message catalogues of gettext.
#pragma once

#include <string>
#include <string_view>

namespace yubifu::base {

/// Speaks `language` ("ja") from now on in the whole process, as far as `folder` holds a catalogue
/// of it at LANGUAGE/LC_MESSAGES/yubifu.mo; English where it does not. Only messages change, never
/// how numbers are read or written. To be called once, before any thread starts.
void speak(const std::string& language, const std::string& folder);

/// The catalogue's text for an English one, or the English one. `text` ends with a zero byte, as
/// every literal does.
std::string_view translated(const char* text);

/// The same for a text of a table.
std::string translated(std::string_view text);

/// Marks a text of a table for the catalogue; `translated` is called where it is shown.
constexpr std::string_view catalogued(std::string_view text) {
  return text;
}

}  // namespace yubifu::base
