#include "base/translation.h"

#include <clocale>
#include <cstdlib>

#include <libintl.h>

namespace yubifu::base {
namespace {

constexpr const char* kDomain = "yubifu";

}  // namespace

void speak(const std::string& language, const std::string& folder) {
  // gettext translates in no locale called "C". This one comes with the C library itself, while
  // the user's own may not be installed; LANGUAGE then chooses the catalogue.
  if (std::setlocale(LC_MESSAGES, "C.UTF-8") == nullptr) return;
  setenv("LANGUAGE", language.c_str(), 1);
  bindtextdomain(kDomain, folder.c_str());
  bind_textdomain_codeset(kDomain, "UTF-8");
  // The reasons of the system come from the C library.
  bind_textdomain_codeset("libc", "UTF-8");
}

std::string_view translated(const char* text) {
  // The empty text is the name of the catalogue's own heading.
  return *text == 0 ? std::string_view() : dgettext(kDomain, text);
}

std::string translated(std::string_view text) {
  return std::string(translated(std::string(text).c_str()));
}

}  // namespace yubifu::base
