// Text in other encodings than UTF-8, known by the names that iconv and XML declarations use.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace yubifu::base {

/// Shift_JIS as Windows has it, NEC's characters included: that of Japanese programs of old.
inline constexpr std::string_view kShiftJis = "CP932";

/// True for an encoding this machine can convert: "Shift_JIS", "UTF-16LE", "ISO-8859-1" …
bool is_known_encoding(std::string_view name);

/// What came of a conversion: the text up to the first byte that could not be converted, and the
/// offset of that byte in the input where there is one.
struct Conversion {
  std::string text;
  std::optional<std::size_t> stopped_at;
};

/// Converts bytes of a known encoding to UTF-8. An unknown encoding stops at the first byte.
Conversion to_utf8(std::string_view bytes, std::string_view encoding);
/// Converts UTF-8 to a known encoding; a character that it lacks stops the conversion.
Conversion from_utf8(std::string_view text, std::string_view encoding);

}  // namespace yubifu::base
