// Which language the program speaks.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace yubifu::cli {

/// The values of --language: "en", then the languages that messages are translated into.
const std::vector<std::string>& languages();

/// Takes `--language NAME` out of the words of a command line, wherever before "--" it stands, and
/// returns the last NAME.
std::optional<std::string> take_language(std::vector<std::string>& words);

/// The value of a variable of the environment, empty where it is not set.
std::string_view environment(const char* name);

/// What the environment asks for, as gettext reads it: the first of LC_ALL, LC_MESSAGES and LANG
/// that is set, and where that is no plain C locale, the first known language of LANGUAGE.
std::string language_of_environment();

/// Makes the messages of the process speak `language`, one of languages().
void speak_language(const std::string& language);

}  // namespace yubifu::cli
