#include "cli/language.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>

#include "base/message.h"
#include "cli/embedded_files.h"

namespace yubifu::cli {
namespace {

constexpr std::string_view kLanguageOption = "--language";

// "ja" of "ja_JP.UTF-8"; empty when nothing is translated into it.
std::string known_language(std::string_view locale) {
  const std::string name(locale.substr(0, locale.find_first_of("_.@")));
  const auto& all = languages();
  return std::find(all.begin(), all.end(), name) == all.end() ? std::string() : name;
}

}  // namespace

const std::vector<std::string>& languages() {
  static const std::vector<std::string> list{"en", "ja"};
  return list;
}

std::optional<std::string> take_language(std::vector<std::string>& words) {
  std::optional<std::string> taken;
  for (auto word = words.begin(); word != words.end() && *word != "--";) {
    if (word->starts_with(std::string(kLanguageOption) + '=')) {
      taken = word->substr(kLanguageOption.size() + 1);
      word = words.erase(word);
    } else if (*word == kLanguageOption) {
      const auto value = std::next(word);
      taken = value == words.end() ? std::string() : *value;
      word = words.erase(word, value == words.end() ? value : std::next(value));
    } else {
      ++word;
    }
  }
  return taken;
}

std::string_view environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string_view() : value;
}

std::string language_of_environment() {
  std::string_view locale;
  for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
    if (locale.empty()) locale = environment(name);
  }
  const std::string_view language = locale.substr(0, locale.find('.'));
  if (language.empty() || language == "C" || language == "POSIX") return "en";
  std::string_view wanted = environment("LANGUAGE");
  while (!wanted.empty()) {
    const std::size_t end = std::min(wanted.find(':'), wanted.size());
    if (auto known = known_language(wanted.substr(0, end)); !known.empty()) return known;
    wanted.remove_prefix(std::min(end + 1, wanted.size()));
  }
  const std::string known = known_language(locale);
  return known.empty() ? "en" : known;
}

void speak_language(const std::string& language) {
  for (const EmbeddedFile& catalogue : embedded_catalogues()) {
    if (catalogue.name == language + ".mo") return base::speak(catalogue.text);
  }
  base::speak({});
}

}  // namespace yubifu::cli
