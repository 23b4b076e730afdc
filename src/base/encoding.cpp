#include "base/encoding.h"

#include <algorithm>
#include <array>
#include <cerrno>

#include <iconv.h>

namespace yubifu::base {
namespace {

// iconv takes suffixes such as //TRANSLIT, which change what a conversion does.
bool is_plain_name(std::string_view name) {
  return !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
    const bool alphanumeric =
        (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
    return alphanumeric || c == '-' || c == '_' || c == '.' || c == ':' || c == '+';
  });
}

class Converter {
 public:
  Converter(const std::string& to, const std::string& from)
      : handle_(iconv_open(to.c_str(), from.c_str())) {}
  Converter(const Converter&) = delete;
  Converter& operator=(const Converter&) = delete;
  ~Converter() {
    if (valid()) iconv_close(handle_);
  }
  // The value that iconv_open returns for an encoding it does not know.
  // NOLINTNEXTLINE(performance-no-int-to-ptr)
  bool valid() const { return handle_ != reinterpret_cast<iconv_t>(-1); }
  iconv_t get() const { return handle_; }

 private:
  iconv_t handle_;
};

Conversion convert(std::string_view input, std::string_view to, std::string_view from) {
  if (!is_plain_name(to) || !is_plain_name(from)) return {{}, 0};
  const Converter converter{std::string(to), std::string(from)};
  if (!converter.valid()) return {{}, 0};
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
  return is_plain_name(name) && Converter("UTF-8", std::string(name)).valid();
}

Conversion to_utf8(std::string_view bytes, std::string_view encoding) {
  return convert(bytes, "UTF-8", encoding);
}

Conversion from_utf8(std::string_view text, std::string_view encoding) {
  return convert(text, encoding, "UTF-8");
}

}  // namespace yubifu::base
