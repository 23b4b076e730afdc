#include "base/encoding.h"

#include <array>
#include <cerrno>
#include <memory>

#include <iconv.h>

namespace yubifu::base {
namespace {

// iconv takes suffixes such as //TRANSLIT, which change what a conversion does.
bool is_plain_name(std::string_view name) {
  constexpr std::string_view kCharacters =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.:+";
  return !name.empty() && name.find_first_not_of(kCharacters) == std::string_view::npos;
}

struct CloseConverter {
  void operator()(iconv_t handle) const { iconv_close(handle); }
};
using Converter = std::unique_ptr<std::remove_pointer_t<iconv_t>, CloseConverter>;

// Null for an encoding that is not known.
Converter converter_of(std::string_view to, std::string_view from) {
  if (!is_plain_name(to) || !is_plain_name(from)) return nullptr;
  const iconv_t handle = iconv_open(std::string(to).c_str(), std::string(from).c_str());
  // NOLINTNEXTLINE(performance-no-int-to-ptr)
  return Converter(handle == reinterpret_cast<iconv_t>(-1) ? nullptr : handle);
}

Conversion convert(std::string_view input, std::string_view to, std::string_view from) {
  const Converter converter = converter_of(to, from);
  if (converter == nullptr) return {{}, 0};
  Conversion result;
  std::array<char, 4096> piece{};
  // iconv does not write to its input, whatever its declaration says.
  char* next = const_cast<char*>(input.data());
  std::size_t left = input.size();
  // The last turn, without input, writes what returns an encoding with states to its first one.
  for (bool is_last = false;;) {
    char* out = piece.data();
    std::size_t room = piece.size();
    const std::size_t done =
        iconv(converter.get(), is_last ? nullptr : &next, is_last ? nullptr : &left, &out, &room);
    const int error = done == static_cast<std::size_t>(-1) ? errno : 0;
    result.text.append(piece.data(), piece.size() - room);
    if (error == E2BIG) continue;
    if (is_last) return result;
    if (error != 0) result.stopped_at = input.size() - left;
    is_last = true;
  }
}

}  // namespace

bool is_known_encoding(std::string_view name) {
  return converter_of("UTF-8", name) != nullptr;
}

Conversion to_utf8(std::string_view bytes, std::string_view encoding) {
  return convert(bytes, "UTF-8", encoding);
}

Conversion from_utf8(std::string_view text, std::string_view encoding) {
  return convert(text, encoding, "UTF-8");
}

}  // namespace yubifu::base
