// Text for XML documents.
#pragma once

#include <string>
#include <string_view>

namespace yubifu::base {

/// Text that may stand in an element or in a quoted attribute of XML 1.0: the four signs of the
/// language as references, and U+FFFD for what the language cannot hold (control characters,
/// invalid UTF-8).
std::string xml_escaped(std::string_view text);

}  // namespace yubifu::base
