#include "base/encoding.h"

#include <algorithm>
#include <memory>

#include <glib.h>

namespace yubifu::base {
namespace {

// iconv takes suffixes such as //TRANSLIT, which change what a conversion does.
bool is_plain_name(std::string_view name) {
  return !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
    return g_ascii_isalnum(c) || c == '-' || c == '_' || c == '.' || c == ':' || c == '+';
  });
}

class Converter {
 public:
  Converter(const std::string& to, const std::string& from)
      : handle_(g_iconv_open(to.c_str(), from.c_str())) {}
  Converter(const Converter&) = delete;
  Converter& operator=(const Converter&) = delete;
  ~Converter() {
    if (valid()) g_iconv_close(handle_);
  }
  // The value that g_iconv_open returns for an encoding it does not know.
  // NOLINTNEXTLINE(performance-no-int-to-ptr)
  bool valid() const { return handle_ != reinterpret_cast<GIConv>(-1); }
  GIConv get() const { return handle_; }

 private:
  GIConv handle_;
};

Conversion convert(std::string_view input, std::string_view to, std::string_view from) {
  if (!is_plain_name(to) || !is_plain_name(from)) return {{}, 0};
  const Converter converter{std::string(to), std::string(from)};
  if (!converter.valid()) return {{}, 0};
  gsize read = 0;
  const auto converted = [&](std::string_view part) -> std::optional<std::string> {
    gsize written = 0;
    const std::unique_ptr<gchar, decltype(&g_free)> bytes(
        g_convert_with_iconv(part.data(), static_cast<gssize>(part.size()), converter.get(), &read,
                             &written, nullptr),
        &g_free);
    if (!bytes) return std::nullopt;
    return std::string(bytes.get(), written);
  };
  if (auto text = converted(input)) {
    // An input that ends inside a character is no failure to glib; its last bytes stay unread.
    if (read == input.size()) return {*std::move(text), std::nullopt};
    return {*std::move(text), read};
  }
  const std::size_t stopped_at = read;
  g_iconv(converter.get(), nullptr, nullptr, nullptr, nullptr);  // back to the initial state
  return {converted(input.substr(0, stopped_at)).value_or(std::string()), stopped_at};
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
