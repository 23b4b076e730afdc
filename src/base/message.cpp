#include "base/message.h"

#include <cstdint>
#include <cstring>

namespace yubifu::base {
namespace {

// The language of a process is one for all its messages, as with gettext's own functions.
std::string_view& spoken() {
  static std::string_view catalogue;
  return catalogue;
}

// The header of the file: magic number, revision, number of texts, then where the two tables
// start. A table has length and offset of each text; the English ones are sorted.
constexpr std::uint32_t kMagic = 0x950412DE;
constexpr std::size_t kCountAt = 8;
constexpr std::size_t kEnglishAt = 12;
constexpr std::size_t kTranslatedAt = 16;
constexpr std::size_t kRow = 8;

std::uint32_t number_at(std::string_view catalogue, std::size_t at) {
  std::uint32_t value = 0;
  if (at + sizeof value <= catalogue.size()) {
    std::memcpy(&value, catalogue.data() + at, sizeof value);
  }
  return value;
}

std::string_view text_at(std::string_view catalogue, std::size_t table, std::size_t row) {
  const std::size_t size = number_at(catalogue, table + row * kRow);
  const std::size_t at = number_at(catalogue, table + row * kRow + kRow / 2);
  return at > catalogue.size() ? std::string_view() : catalogue.substr(at, size);
}

}  // namespace

void speak(std::string_view catalogue) {
  spoken() = number_at(catalogue, 0) == kMagic ? catalogue : std::string_view();
}

std::string_view translated(const char* text) {
  const std::string_view catalogue = spoken();
  const std::string_view english = text;
  // The empty text is the name of the catalogue's own heading.
  if (english.empty()) return english;
  const std::size_t table = number_at(catalogue, kEnglishAt);
  std::size_t first = 0;
  std::size_t count = number_at(catalogue, kCountAt);
  while (count > 0) {
    const std::size_t middle = first + count / 2;
    const int order = text_at(catalogue, table, middle).compare(english);
    if (order == 0) return text_at(catalogue, number_at(catalogue, kTranslatedAt), middle);
    if (order < 0) {
      count -= count / 2 + 1;
      first = middle + 1;
    } else {
      count /= 2;
    }
  }
  return english;
}

std::string translated(std::string_view text) {
  return std::string(translated(std::string(text).c_str()));
}

}  // namespace yubifu::base
